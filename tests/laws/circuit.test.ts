import { cautions } from '#sim/circuit/cautions.ts';
import { checkCircuit } from '#sim/circuit/check-circuit.ts';
import { standardKinds } from '#sim/device/standard-kinds.ts';
import { readWave } from '#sim/signal/read-wave.ts';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';

/** Words that stand in circuits, and some that must never do harm. */
const word = fc.constantFrom(
  ...standardKinds.keys(),
  'parts',
  'name',
  'kind',
  'pins',
  'a',
  'b',
  'plus',
  'minus',
  'ground',
  'resistance',
  'wave',
  'shape',
  'points',
  'with',
  'presses',
  'at',
  'for',
  '__proto__',
  'constructor',
  'toString',
);

const leaf = fc.oneof(
  word,
  fc.string(),
  fc.double(),
  fc.boolean(),
  fc.constant(null),
  fc.constantFrom('1 kΩ', '4K7', '5 V', '1 ms', '-3', 'µ'),
);

/** Anything JSON can hold, made of the words above so that some of it nearly is a circuit. */
const json = fc.letrec((tie) => ({
  value: fc.oneof(
    { depthSize: 'small' },
    leaf,
    fc.array(tie('value'), { maxLength: 5 }),
    fc.array(fc.tuple(fc.oneof(word, fc.string()), tie('value')), { maxLength: 6 }).map((entries) => {
      // Through text, so that `__proto__` becomes an entry of its own as it does in a file.
      return JSON.parse(
        `{${entries.map(([key, value]) => `${JSON.stringify(key)}:${JSON.stringify(value)}`).join(',')}}`,
      ) as unknown;
    }),
  ),
})).value;

const net = fc.constantFrom('ground', 'rail', 'n1', 'n2', 'n3', 'n4');
const ohms = fc.constantFrom<unknown>(0, 1, '4K7', '1 MΩ', -1, 'x');

/** Parts that are mostly right, so that whole circuits often are. */
const part = fc.oneof(
  fc.record({ kind: fc.constant('resistor'), a: net, b: net, resistance: ohms }),
  fc.record({ kind: fc.constant('capacitor'), a: net, b: net, capacitance: fc.constantFrom<unknown>('1 µF', 1e-9, 0) }),
  fc.record({
    kind: fc.constant('supply'),
    plus: net,
    minus: net,
    voltage: fc.constantFrom(5, '12 V'),
    resistance: fc.constantFrom(0, 1),
  }),
  fc.record({ kind: fc.constantFrom('button', 'jumper', 'switch'), a: net, b: net, resistance: fc.constantFrom(0, 1) }),
  fc.record({ kind: fc.constantFrom('diode', 'led'), a: net, b: net }),
  fc.record({ kind: fc.constantFrom('finger', 'probe'), a: net }),
  fc.record({
    kind: fc.constant('timer'),
    pins: fc.record(
      { supply: net, ground: net, trigger: net, threshold: net, output: net, control: net, reset: net, discharge: net },
      { requiredKeys: ['supply', 'ground', 'trigger', 'threshold', 'output'] },
    ),
  }),
);

const circuit = fc.array(part, { minLength: 1, maxLength: 12 }).map((parts) => ({
  parts: parts.map((each, index) => ({ name: `X${index}`, ...each })),
}));

type CircuitData = typeof circuit extends fc.Arbitrary<infer Data> ? Data : never;

/** The same circuit under other names of nets (but `ground`) and parts. */
function renamed(data: CircuitData, netName: (net: string) => string, partName: (name: string) => string): unknown {
  const rename = (value: unknown, key: string): unknown => {
    if (key === 'name') return partName(value as string);
    if (key === 'pins') return mapEntries(value as Record<string, unknown>, (pin) => netName(pin as string));
    return ['a', 'b', 'plus', 'minus'].includes(key) ? netName(value as string) : value;
  };
  return { parts: data.parts.map((each) => mapEntries(each, rename)) };
}

function mapEntries(object: object, change: (value: unknown, key: string) => unknown): Record<string, unknown> {
  return Object.fromEntries(Object.entries(object).map(([key, value]) => [key, change(value, key)]));
}

/** Codes of all issues, sorted. */
function codesOf(data: unknown): string[] {
  return checkCircuit(data, standardKinds)
    .issues.map(({ code, severity }) => `${severity} ${code}`)
    .sort();
}

describe('checkCircuit', () => {
  test('never throws, and gives a circuit exactly when nothing is a fault', () => {
    fc.assert(
      fc.property(fc.oneof(json, fc.record({ parts: fc.array(json, { maxLength: 6 }) }), fc.anything()), (data) => {
        const { issues, circuit: checked } = checkCircuit(data, standardKinds, 'boards.x');
        expect(checked === undefined).toBe(issues.some(({ severity }) => severity === 'fault'));
        for (const { message, where } of issues) {
          expect(message).toMatch(/^boards\.x.* must .*; got .*\. \S.*[.?]$/s);
          expect(where.startsWith('boards.x')).toBe(true);
        }
      }),
    );
  });

  test('finds the same under any names of nets and parts', () => {
    const other = {
      netName: (name: string) => (name === 'ground' ? name : `Q${name}_z`),
      partName: (name: string) => `other_${name}`,
    };
    fc.assert(
      fc.property(circuit, (data) => {
        expect(codesOf(renamed(data, other.netName, other.partName))).toEqual(codesOf(data));
      }),
    );
  });

  test('finds the same in any order of the parts, but for which source closes a loop', () => {
    const shuffled = circuit.chain((data) => {
      return fc
        .shuffledSubarray(data.parts, { minLength: data.parts.length })
        .map((parts) => ({ data, other: { parts } }));
    });
    fc.assert(
      fc.property(shuffled, ({ data, other }) => {
        expect(codesOf(other)).toEqual(codesOf(data));
      }),
    );
  });

  test('finds no loop of sources once every source and link has a resistance', () => {
    fc.assert(
      fc.property(circuit, (data) => {
        const parts = data.parts.map((each) => ('resistance' in each ? { ...each, resistance: 1 } : each));
        expect(codesOf({ parts })).not.toContain('fault source-loop');
      }),
    );
  });

  test('finds no floating net once every net has a resistor to ground', () => {
    fc.assert(
      fc.property(circuit, (data) => {
        const pulls = ['rail', 'n1', 'n2', 'n3', 'n4'].map((a) => {
          return { name: `pull_${a}`, kind: 'resistor', a, b: 'ground', resistance: 1e6 };
        });
        const codes = codesOf({ parts: [...data.parts, ...pulls] });
        expect(codes).not.toContain('fault floating-net');
        expect(codes).not.toContain('warning isolated-net');
      }),
    );
  });

  test('gives circuits that cautions can be said about', () => {
    fc.assert(
      fc.property(circuit, (data) => {
        const { circuit: checked } = checkCircuit(data, standardKinds);
        fc.pre(checked !== undefined);
        if (checked !== undefined) for (const sentence of cautions(checked)) expect(sentence).toMatch(/^[A-Z].*\.$/s);
      }),
    );
  });
});

test('readWave never throws, and its own result reads as itself', () => {
  fc.assert(
    fc.property(fc.oneof(json, fc.anything()), (data) => {
      const read = readWave(data);
      if (read.ok) expect(readWave(read.value)).toEqual(read);
      else expect(read.message).toMatch(/^must .*; got .*\. \S.*[.?]$/s);
    }),
  );
});
