import { LONGEST_DOCUMENT, parseDocument } from '#sim/document/index.ts';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { plain } from '../../support/circuit-issues.ts';
import { documentOf, issuesOf, usable } from '../../support/documents.ts';

const divider = { counter: { ready: 'frequency divider' } };
const numbers = { id: 'numbers', kind: 'reading', board: 'counter', until: '1 s', take: { width: 'width(out)' } };

describe('parseDocument(text)', () => {
  test('reads the document of the format page, and finds nothing wrong', () => {
    const parsed = parseDocument(
      JSON.stringify(
        documentOf(divider, [
          { id: 'intro', kind: 'note', section: 'ask', text: 'It lasts [width](#numbers.width).' },
          { id: 'circuit', kind: 'board', board: 'counter', knobs: ['R1', 'BT1.voltage', 'G1.wave.period'] },
          { id: 'look', kind: 'trace', board: 'counter', until: '6 s', show: ['in', 'timing', 'current(R1)'] },
          { id: 'why', kind: 'fates', board: 'counter', until: 6, timer: 'U1' },
          numbers,
        ]),
      ),
    );
    expect(parsed.issues).toEqual([]);
    expect(parsed.document?.page).toHaveLength(5);
  });

  test('keeps what was written as it was written, faults included', () => {
    const page = [{ ...numbers, until: 'six seconds' }, 'Hello'];
    expect(usable(documentOf(divider, page)).page).toEqual(page);
  });

  test('finds the faults of several cells and boards at once', () => {
    const boards = { ...divider, other: { ready: 'nothing' } };
    expect(
      issuesOf(
        documentOf(boards, [
          { ...numbers, until: '6 V', take: {} },
          { kind: 'note', id: 'n' },
        ]),
      ),
    ).toEqual([
      'boards.other.ready: unknown-ready-board',
      'page[0].until: out-of-range',
      'page[0].take: out-of-range',
      'page[1].text: missing-field',
    ]);
  });

  test('refuses a text longer than the limit without reading it', () => {
    const { unusable } = parseDocument(' '.repeat(LONGEST_DOCUMENT + 1));
    expect(unusable?.code).toBe('too-long');
  });

  test('takes a document as long as the limit', () => {
    const data = documentOf({}, [{ id: 'long', kind: 'note', text: '' }]);
    const text = JSON.stringify(data).replace('"text":""', `"text":"${'a'.repeat(LONGEST_DOCUMENT - 200)}"`);
    expect(parseDocument(text).issues).toEqual([]);
  });

  // Two seconds of a processor, many on a busy machine.
  test('takes time in proportion to the text, however much is wrong with it', () => {
    // 5 MB of faults; work with the square of their number would take minutes. 10 s of a processor, whatever else runs.
    const notes = Array.from({ length: 30_000 }, (_, i) => ({
      id: `n${i}`,
      kind: 'note',
      text: `[a](#m${i}.b) [c](#n${i + 1}.d)`,
    }));
    const readings = Array.from({ length: 15_000 }, (_, i) => ({ ...numbers, id: `r${i}`, take: { w: 'width(uot)' } }));
    const text = JSON.stringify(documentOf(divider, [...notes, ...readings]));
    expect(text.length).toBeGreaterThan(LONGEST_DOCUMENT / 2);
    const start = process.cpuUsage();
    expect(parseDocument(text).issues.length).toBeGreaterThan(45_000);
    const { user, system } = process.cpuUsage(start);
    expect(user + system).toBeLessThan(10e6);
  });

  test('never throws, whatever stands in the place of any value', () => {
    const page = [
      numbers,
      { id: 'look', kind: 'trace', board: 'counter', until: '1 s', show: ['in'] },
      { id: 'why', kind: 'fates', board: 'counter', until: '1 s', timer: 'U1' },
      { id: 'circuit', kind: 'board', board: 'counter', knobs: ['R1'] },
      { id: 'intro', kind: 'note', text: '[a](#numbers.width)' },
    ];
    const links = [{ a: 'counter.out', b: 'counter.in' }];
    const text = JSON.stringify(
      documentOf({ ...divider, own: { parts: [{ name: 'R1', kind: 'resistor', a: 'x' }] } }, page, { links }),
    );
    // Every place of a value in the text.
    const places = [...text.matchAll(/(?<=[:[,])(?:"[^"]*"|\d+|\{|\[)/g)].map(({ index, 0: found }) => ({
      index,
      found,
    }));
    fc.assert(
      fc.property(fc.constantFrom(...places), fc.json({ maxDepth: 2 }), ({ index, found }, value) => {
        const closing = { '{': '}', '[': ']' }[found];
        const replaced = closing === undefined ? value : `${value},${found}`;
        parseDocument(text.slice(0, index) + replaced + text.slice(index + (closing === undefined ? found.length : 1)));
      }),
    );
  });
});

describe('parseDocument(text): boards and links', () => {
  test('places a fault of a ready board at the value that was stated', () => {
    const boards = { counter: { ready: 'frequency divider', values: { R1: '-1 Ω', 'U1.family': 'vacuum' } } };
    expect(issuesOf(documentOf(boards, []))).toEqual([
      'boards.counter.values["U1.family"]: bad-value',
      'boards.counter.values.R1: bad-value',
    ]);
  });

  test('gives warnings without calling the document faulty', () => {
    const parts = [
      { name: 'BT1', kind: 'supply', plus: 'rail', minus: 'ground', voltage: '9 V' },
      { name: 'R1', kind: 'resistor', a: 'rail', b: 'nowhere', resistance: '1 kΩ' },
    ];
    const { issues } = parseDocument(JSON.stringify(documentOf({ lonely: { parts } }, [])));
    expect(issues.map(({ severity }) => severity)).toEqual(['warning']);
  });

  test('does not call a net floating that a link holds', () => {
    const parts = [
      { name: 'R1', kind: 'resistor', a: 'in', b: 'out', resistance: '1 kΩ' },
      { name: 'C1', kind: 'capacitor', a: 'out', b: 'out2', capacitance: '1 µF' },
    ];
    const boards = { ...divider, filter: { parts } };
    expect(issuesOf(documentOf(boards, []))).not.toEqual([]);
    const links = [
      { a: 'counter.out', b: 'filter.in' },
      { a: 'counter.ground', b: 'filter.out2' },
    ];
    expect(issuesOf(documentOf(boards, [], { links }))).toEqual([]);
  });

  test('blocks only the boards that a faulty link names', () => {
    const boards = { ...divider, lamp: { ready: 'monostable' }, bell: { ready: 'touch switch' } };
    const reading = (board: string): object => ({ ...numbers, id: board, board });
    const page = [reading('counter'), reading('lamp'), reading('bell')];
    const { issues } = parseDocument(
      JSON.stringify(documentOf(boards, page, { links: [{ a: 'counter.out', b: 'lamp.button', closed: 'yes' }] })),
    );
    expect(issues.map(({ where }) => where)).toEqual(['links[0].closed']);
    const message = plain(issues[0]?.message ?? '');
    expect(message).toMatch(/^links\[0\]: closed must .+; got "yes"/);
  });
});
