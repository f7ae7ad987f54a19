import { describe, expect, it } from 'vitest';
import { IssueError } from '#sim/core/errors.ts';
import { checkReading } from '#sim/measure/check-reading.ts';
import { parseReading } from '#sim/measure/parse-reading.ts';
import { readingForms, readingNames } from '#sim/measure/reading-names.ts';
import { divider } from '../../support/run-board.ts';

function messageOf(input: unknown): string {
  try {
    parseReading(input, 'page.numbers.take.width');
  } catch (error) {
    expect(error).toBeInstanceOf(IssueError);
    return (error as IssueError).message;
  }
  throw new Error(`${String(input)} was read`);
}

describe('parseReading', () => {
  it.each(readingNames)('reads the example of %s', (name) => {
    expect(parseReading(readingForms[name].example).name).toBe(name);
  });

  it('reads nets, limit and edge words in their places', () => {
    expect(parseReading(' width( out , 3 V ) ')).toEqual({
      name: 'width',
      text: 'width( out , 3 V )',
      nets: ['out'],
      limit: 3,
      edges: [],
    });
    expect(parseReading('delay(in, out, fall, rise)')).toMatchObject({ nets: ['in', 'out'], edges: ['fall', 'rise'] });
    expect(parseReading('first(out, 350 mV, fall)')).toMatchObject({ limit: 0.35, edges: ['fall'] });
    expect(parseReading('level(out, 20 ms)')).toMatchObject({ nets: ['out'], at: 0.02 });
    expect(parseReading('level(out, 2)')).toMatchObject({ at: 2 });
    expect(parseReading('power(R1)')).toMatchObject({ nets: [], part: 'R1' });
  });

  it('resolves names before anything else: a net may be called like an edge word or a unit', () => {
    expect(parseReading('first(fall, fall)')).toMatchObject({ nets: ['fall'], edges: ['fall'] });
    expect(parseReading('ratio(V, s)')).toMatchObject({ nets: ['V', 's'] });
  });

  it('takes dotted names, as linked boards and inner nets have them', () => {
    expect(parseReading('mean(U1.control)').nets).toEqual(['U1.control']);
    expect(parseReading('mean(flasher.U1.control)').nets).toEqual(['flasher.U1.control']);
  });

  it('says what it found and lists the readings when the name is unknown, the nearest one first of all advice', () => {
    const message = messageOf('widht(out)');
    expect(message).toContain('page.numbers.take.width must be one of the readings width, low, period,');
    expect(message).toContain('got "widht". Did you mean width?');
    expect(messageOf('toString(out)')).toContain('must be one of the readings');
    expect(messageOf('__proto__(out)')).toContain('must be one of the readings');
  });

  it('advises what may follow, the other reading, or an example', () => {
    expect(messageOf('width(out, foo)')).toContain(
      'width must be followed by a limit in volts, if anything; got "foo". Write for example width(out, 3 V).',
    );
    expect(messageOf('first(out, falling)')).toContain('Write for example first(out, fall).');
    expect(messageOf('width(out, rise)')).toContain('got "rise" as well. Use low(...) for the other one.');
    expect(messageOf('lows(out, rise)')).toContain('Use widths(...) for the other one.');
    expect(messageOf('width(out, 3 V, 4 V)')).toContain('got "4 V" as well. Write for example width(out).');
    expect(messageOf('first(out, fall, rise)')).toContain('got "rise" as well. Write for example first(out).');
    expect(messageOf('count(out, 3 V, foo)')).toContain('got "foo" as well. Write for example count(out).');
    expect(messageOf('zzzzzzzzz(out)')).toMatch(/got "zzzzzzzzz"\. Choose one of them\.$/);
  });

  it('names the reading as the field of a fault once it is known', () => {
    const issuesOf = (text: string): readonly object[] => {
      try {
        parseReading(text);
      } catch (error) {
        return (error as IssueError).issues;
      }
      return [];
    };
    expect(issuesOf('width()')).toMatchObject([{ code: 'reading-argument', field: 'width' }]);
    expect(issuesOf('widht(out)')[0]).not.toHaveProperty('field');
  });

  it('holds no limit where none was given, and no edges for a level', () => {
    expect(parseReading('width(out)')).toEqual({ name: 'width', text: 'width(out)', nets: ['out'], edges: [] });
    expect(parseReading('width(out)')).not.toHaveProperty('limit');
    expect(parseReading('level(out, 2 s)')).toEqual({
      name: 'level',
      text: 'level(out, 2 s)',
      nets: ['out'],
      at: 2,
      edges: [],
    });
  });

  it.each([
    [7, 'must be a reading; got 7. Write for example width(out).'],
    [undefined, 'got nothing'],
    ['', 'must be a reading, a name with brackets; got an empty text'],
    ['width out', 'got "width out"'],
    ['width(out) + 1', 'got "width(out) + 1"'],
    ['width()', 'width must name a net; got empty brackets. Write for example width(out).'],
    ['ratio(out)', 'ratio must name two nets; got "out". Write for example ratio(out, in).'],
    ['level(out)', 'level must name a net and a time; got "out"'],
    ['width(out,)', 'width must name a net; got "out,"'],
    ['width(3 V)', 'width must name a net; got "3 V"'],
    ['power(3)', 'power must name a part; got "3"'],
    ['width(out, 3 s)', 'width must be a voltage; got "3 s", a time.'],
    ['level(out, 3 V)', 'level must be a time; got "3 V", a voltage.'],
    ['width(out, fall)', 'width must end there; got "fall" as well. Use low(...) for the other one.'],
    ['first(out, fall, rise)', 'first must end there; got "rise" as well.'],
    ['width(out, 3 V, 4 V)', 'width must end there; got "4 V" as well.'],
    ['mean(out, 3 V)', 'mean must end there; got "3 V" as well.'],
    ['first(out, falling)', 'first must be followed by a limit in volts, rise or fall; got "falling"'],
    ['level(out, 1 s, fall)', 'level must end there; got "fall" as well.'],
    ['x'.repeat(5000), 'must be a reading; got a text of 5000 characters'],
  ])('refuses %j in words', (input, part) => {
    const message = messageOf(input);
    expect(message).toContain(part);
    expect(message.startsWith('page.numbers.take.width')).toBe(true);
  });
});

describe('checkReading', () => {
  const board = divider({
    more: [
      { name: 'LED1', kind: 'led', a: 'out', b: 'lamp', colour: 'red' },
      { name: 'R2', kind: 'resistor', a: 'lamp', b: 'ground', resistance: '1 kΩ' },
    ],
  });
  const issuesOf = (text: string): string[] => checkReading(parseReading(text), board).map(({ message }) => message);

  it('finds nothing wrong with nets and parts of the board, inner nets of timers included', () => {
    expect(issuesOf('ratio(out, in)')).toEqual([]);
    expect(issuesOf('mean(U1.lower)')).toEqual([]);
    expect(issuesOf('light(LED1)')).toEqual([]);
    expect(issuesOf('power(BT1)')).toEqual([]);
  });

  it('lists the nets there are and the nearest one for an unknown net', () => {
    expect(issuesOf('width(otu)')).toEqual([
      'reading: width(otu) must name a net of the board: rail, ground, in, out, timing, control, lamp, U1.lower; got "otu". Did you mean out?',
    ]);
  });

  it('lists the parts that fit for an unknown part', () => {
    expect(issuesOf('current(R7)')[0]).toContain('must name a part of the board: BT1, R1, C1, G1, LED1, R2; got "R7"');
    expect(issuesOf('light(R7)')[0]).toContain('must name a part of the board: LED1; got "R7"');
  });

  it('refuses a part that the reading cannot mean', () => {
    expect(issuesOf('light(R1)')[0]).toContain('must name an LED; got R1, a resistor');
    expect(issuesOf('current(U1)')[0]).toContain('must name a part with two terminals; got U1, a timer');
  });

  it('refuses the power of a part with more than two terminals, but not its current', () => {
    const pot = { name: 'P1', kind: 'pot', a: 'rail', b: 'ground', wiper: 'lamp', resistance: '10 kΩ', position: 0.5 };
    const with3 = divider({ more: [pot] });
    const of = (text: string): string[] => checkReading(parseReading(text), with3).map(({ message }) => message);
    expect(of('power(P1)')[0]).toContain('must name a part with two terminals; got P1, a pot');
    expect(of('current(P1)')).toEqual([]);
  });

  it('says where nothing fits, and lists no more than a handful where much does', () => {
    const none = divider({});
    expect(checkReading(parseReading('light(D1)'), none)[0]!.message).toMatch(
      /must name a part of the board, which has none that fits; got "D1"\. Add one first\.$/,
    );
    const many = divider({
      more: Array.from({ length: 40 }, (_, i) => ({
        name: `R${100 + i}`,
        kind: 'resistor',
        a: 'out',
        b: 'ground',
        resistance: '1 kΩ',
      })),
    });
    const { message } = checkReading(parseReading('current(zzzzzzzz)'), many)[0]!;
    expect(message).toMatch(/, \.\.\.; got "zzzzzzzz"\. Choose one of them\.$/);
    expect(message).not.toContain('R139');
  });

  it('names both nets where both are unknown', () => {
    expect(issuesOf('ratio(a, b)')).toHaveLength(2);
  });
});
