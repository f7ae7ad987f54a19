import { expect, test } from 'vitest';
import type { Circuit } from '#sim/circuit/description.ts';
import { parseReading } from '#sim/measure/parse-reading.ts';
import { highLevel, timersOf } from '#sim/run/simulate.ts';
import { probe } from '#sim/study/probe.ts';
import { RatioField } from '#sim/study/ratio-field.ts';
import { isUneven } from '#sim/study/ratio-steps.ts';
import type { Subject } from '#sim/study/subject.ts';
import { circuitOf } from '../../support/circuit-issues.ts';
import { lowPulses, monostable, signal } from '../../support/timer-circuits.ts';

interface Board {
  readonly family?: string;
  /** Discharge resistance in place of the family's (Ω). */
  readonly discharge?: number;
}

/** A divider of which some values can be given: `R1`, `C1`, `supply`, `period`, `width`. */
function subjectOf({ family = 'ideal', discharge }: Board): Subject {
  return (values) => {
    const voltage = values.get('supply') ?? 9;
    const circuit = circuitOf([
      ...monostable({
        voltage,
        resistance: values.get('R1') ?? 22e3,
        capacitance: values.get('C1') ?? 1e-7,
        ofTimer: { family, with: discharge === undefined ? {} : { dischargeResistance: discharge } },
      }),
      signal(
        'G1',
        'in',
        lowPulses(voltage, { period: values.get('period') ?? 1e-3, width: values.get('width') ?? 1e-4 }),
      ),
    ]);
    return { ok: true, context: contextOf(circuit) };
  };
}

function contextOf(circuit: Circuit): { circuit: Circuit; timers: ReturnType<typeof timersOf>; highLevel: number } {
  return { circuit, timers: timersOf(circuit), highLevel: highLevel(circuit) };
}

const question = {
  readings: [parseReading('ratio(out, in)')],
  window: { from: 0, until: 0.08 },
  maxEvents: 1e6,
};

const axes = (x: string, atX: number, y: string, atY: number) => ({ x: { name: x, at: atX }, y: { name: y, at: atY } });
const spaced = (from: number, to: number, count: number): number[] =>
  Array.from({ length: count }, (_, i) => from + ((to - from) * (i + 0.37)) / count);

test.each([
  ['ideal', {}],
  ['bipolar', { family: 'bipolar' }],
  ['cmos', { family: 'cmos' }],
  // The capacitor has no time to empty: the ratio is not the same from output to output.
  ['slow to empty', { discharge: 5e3 }],
])('RatioField.at() gives what the general engine gives, point for point: %s', (name, board: Board) => {
  const subject = subjectOf(board);
  const [resistances, periods] = [spaced(5e3, 80e3, 14), spaced(0.4e-3, 3e-3, 14)];
  const field = RatioField.of(subject, axes('R1', 5e3, 'period', 0.4e-3), [80e3, 3e-3], question)!;
  let uneven = 0;
  for (const resistance of resistances) {
    for (const period of periods) {
      const found = field.at(resistance, period);
      expect(field.at(resistance, period, undefined, false)).toEqual(found);
      const full = probe(
        subject,
        new Map([
          ['R1', resistance],
          ['period', period],
        ]),
        question,
      )!;
      if (isUneven(full.steps[0] ?? null)) {
        uneven++;
        expect(found).toBeUndefined();
        continue;
      }
      expect([found?.reading.value, found?.steps]).toEqual([full.measured[0]?.value, full.steps[0]]);
      expect(found?.reading.reason).toBe(full.measured[0]?.reason);
    }
  }
  expect(uneven > 10).toBe(name === 'slow to empty');
});

test('RatioField.of() takes either quantity for the beat', () => {
  const subject = subjectOf({});
  const field = RatioField.of(subject, axes('width', 1e-5, 'supply', 6), [5e-4, 12], question)!;
  for (const width of [1e-5, 2e-4, 5e-4]) {
    for (const supply of [6, 9, 12]) {
      const full = probe(
        subject,
        new Map([
          ['width', width],
          ['supply', supply],
        ]),
        question,
      )!;
      // The levels of the pulses go with the supply here, so that other supplies than the first have other levels.
      expect(field.at(width, supply)?.reading.value ?? full.measured[0]?.value).toBe(full.measured[0]?.value);
    }
  }
  expect(field.at(2e-4, 6)).toBeDefined();
  expect(field.at(2e-4, 9)).toBeUndefined();
});

test('RatioField.of() gives none where no quantity is the beat alone, or where no ratio is asked for', () => {
  const subject = subjectOf({});
  expect(RatioField.of(subject, axes('R1', 1e4, 'C1', 1e-7), [5e4, 2e-7], question)).toBeUndefined();
  const width = { ...question, readings: [parseReading('width(out)')] };
  expect(RatioField.of(subject, axes('R1', 1e4, 'period', 1e-3), [5e4, 2e-3], width)).toBeUndefined();
  const watched = { ...question, faults: true };
  expect(RatioField.of(subject, axes('R1', 1e4, 'period', 1e-3), [5e4, 2e-3], watched)).toBeUndefined();
});

test('RatioField.at() leaves a run of too many events to the general engine', () => {
  const few = { ...question, maxEvents: 20 };
  const field = RatioField.of(subjectOf({}), axes('R1', 1e4, 'period', 1e-3), [5e4, 2e-3], few)!;
  expect(field.at(2e4, 1.5e-3)).toBeUndefined();
});
