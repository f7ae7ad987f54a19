import { documentStudies, type SymptomsFault, type SymptomsResult } from '#sim/document/index.ts';
import { runJobs } from '#sim/study/study.ts';
import { beforeAll, describe, expect, test } from 'vitest';
import { plain } from '../../support/circuit-issues.ts';
import { computed, documentOf, issuesOf, resultOf, usable } from '../../support/documents.ts';

const boards = { lamp: { ready: 'monostable', values: { 'U1.family': 'ideal' } } };
const cell = {
  id: 'bench',
  kind: 'symptoms',
  board: 'lamp',
  until: '20 s',
  take: { width: 'width(out)', lamp: 'peak_current(D1)' },
};

function symptoms(more: object = {}, with_: unknown = boards): SymptomsResult {
  return resultOf(computed(documentOf(with_, [{ ...cell, ...more }])), 'bench', 'symptoms');
}

// Ideal family: T = R C ln 3, R1 = 390 kΩ and C1 = 10 µF (closed form).
const interval = 390e3 * 10e-6 * Math.log(3);

describe('computeDocument(document): symptoms', () => {
  let result: SymptomsResult;
  beforeAll(() => {
    result = symptoms();
  });
  const fault = (title: string): SymptomsFault => {
    const found = result.rows.find((each) => plain(each.title) === title);
    if (found === undefined) throw new Error(result.rows.map((each) => plain(each.title)).join('\n'));
    return found;
  };
  const width = (title: string): number | null => fault(title).values[0] ?? null;
  const titles = (members: readonly number[]): string[] =>
    members.map((member) => (member < 0 ? 'as built' : plain(result.rows[member]?.title ?? '')));

  test('computes the interval of every wrong value by the closed form', () => {
    expect(result.asBuilt?.[0]).toBeCloseTo(interval, 9);
    expect(width('R1 39 kΩ instead of 390 kΩ')).toBeCloseTo(interval / 10, 9);
    expect(width('R1 470 kΩ instead of 390 kΩ')).toBeCloseTo((interval * 47) / 39, 9);
    expect(width('R1 330 kΩ instead of 390 kΩ')).toBeCloseTo((interval * 33) / 39, 9);
    expect(width('C1 1 µF instead of 10 µF')).toBeCloseTo(interval / 10, 9);
    expect(width('C1 12 µF instead of 10 µF')).toBeCloseTo(interval * 1.2, 9);
    // 1 kΩ in series with R1; with C1 it leaves the start of the charge 1 / 391 of 12 V higher.
    expect(width('R1 has a dry joint (1 kΩ in series)')).toBeCloseTo((interval * 391) / 390, 9);
    expect(width('C1 has a dry joint (1 kΩ in series)')).toBeCloseTo(391e3 * 10e-6 * Math.log((12 * 390) / 391 / 4), 6);
    // 1.2 s is longer than the press, 39 s longer than the window.
    expect(width('R1 3.9 MΩ instead of 390 kΩ')).toBe(null);
    expect(fault('R1 3.9 MΩ instead of 390 kΩ').reasons['0']).toContain('out never fell before 20');
  });

  test('injects each fault of each part once', () => {
    const of = (part: string): string[] => result.rows.filter((each) => each.part === part).map(({ what }) => what);
    const values = ['ten-times', 'a-tenth', 'next-above', 'next-below'];
    expect(of('R1')).toEqual(['open', 'short', ...values, 'dry-joint']);
    expect(of('C1')).toEqual(['open', 'short', ...values, 'reversed', 'dry-joint', 'leaky', 'tired']);
    expect(of('D1')).toEqual(['open', 'short', 'reversed', 'dry-joint']);
    expect(of('S1')).toEqual(['open', 'short', 'dry-joint']);
    // Pins in order; an input of the ideal family takes no current, so nobody can say where it floats.
    const pins = [
      'dry-joint',
      'dry-joint',
      'missing-link',
      'dry-joint',
      'dry-joint',
      'missing-link',
      'dry-joint',
      'missing-link',
      'dry-joint',
    ];
    const inside = ['dead-pin', 'dead-pin', 'stuck', 'stuck', 'stuck', 'reversed'];
    expect(of('U1')).toEqual([...pins, ...inside, 'other-family', 'other-family']);
    expect(of('BT1')).toEqual(['open', 'dry-joint', 'flat', 'wrong-voltage', 'wrong-voltage', 'reversed']);
    expect(new Set(result.rows.map(({ title }) => title)).size).toBe(result.count);
  });

  test('says what one would see, with the numbers of the runs', () => {
    expect(plain(fault('R1 39 kΩ instead of 390 kΩ').seen)).toBe('width 428 ms instead of 4.28 s, one part in 10.');
    expect(plain(fault('R1 470 kΩ instead of 390 kΩ').seen)).toBe('width 5.16 s instead of 4.28 s, 21 % more.');
    expect(plain(fault('D1 open or missing').seen)).toMatch(/^lamp \S+ nA instead of \S+ mA, one part in /);
    expect(plain(fault('S1 never closes').seen)).toMatch(/^no width \(.*never.*\); lamp 0 A instead of/);
    expect(fault('R2 12 kΩ instead of 10 kΩ').seen).toBe('Nothing: every reading is as it should be.');
  });

  test('groups what looks alike, and names the reading that tells most of it apart', () => {
    const tenth = result.groups
      .map(({ members }) => titles(members))
      .find((group) => group.includes('C1 1 µF instead of 10 µF'));
    // R C is the same, so no one can tell by the time.
    expect(tenth).toEqual(['R1 39 kΩ instead of 390 kΩ', 'C1 1 µF instead of 10 µF']);
    const dark = result.groups.find(({ members }) => titles(members).includes('R3 open or missing'));
    expect(titles(dark?.members ?? [])).toEqual(['R3 open or missing', 'D1 open or missing']);
    // Whatever lies before the gap is at the output's level, what lies behind it is not.
    expect(dark?.separator?.reading).toBe('mean(lamp)');
    expect(dark?.separator?.parts).toHaveLength(2);
    const healthy = result.groups.find(({ members }) => members.includes(-1));
    expect(titles(healthy?.members ?? [])).toContain('R2 12 kΩ instead of 10 kΩ');
  });

  test('marks what must not be built, and why', () => {
    const never = result.rows.filter(({ build }) => !build).map(({ title }) => plain(title));
    expect(never).toEqual(
      expect.arrayContaining(['R1 shorted', 'C1 reversed', 'R2 shorted', 'R3 shorted', 'R3 68 Ω instead of 680 Ω']),
    );
    expect(never).not.toContain('R1 39 kΩ instead of 390 kΩ');
    expect(fault('C1 reversed').harms[0]).toBe('A reversed electrolytic capacitor heats up and may burst.');
    expect(fault('R3 shorted').harms[0]).toBe('R3 is what keeps the current of D1 small.');
    // The lamp drops 2.1 V at most: (12 V - 2.1 V) / (68 Ω + 10 Ω) = 127 mA, far beyond 20 mA.
    expect(fault('R3 68 Ω instead of 680 Ω').harms.join(' ')).toContain('current-limiting path');
    for (const { build, harms } of result.rows) expect(build).toBe(harms.length === 0);
    // What opens every fault table (the product's cautions).
    expect(result.cautions[0]).toContain('Hot or smelling: switch off first.');
    expect(result.cautions[1]).toContain('never reversed electrolytic capacitors');
  });

  test('ranks faults by how well they fit what was seen', () => {
    const { ranked, rows: faults, seen } = symptoms({ seen: { width: '5.1 s', lamp: '14.3 mA' } });
    expect(seen).toEqual({ width: 5.1, lamp: 14.3e-3 });
    const [first, second] = ranked.slice(0, 2).map(({ fault: index }) => plain(faults[index]?.title ?? ''));
    // 12 / 10 and 47 / 39 of 4.285 s are 5.142 s and 5.164 s; the lamp takes (12 V - 2.1 V) / 690 Ω (closed forms).
    expect([first, second]).toEqual(['C1 12 µF instead of 10 µF', 'R1 470 kΩ instead of 390 kΩ']);
    expect(ranked[0]?.off).toBeLessThan(0.02);
    expect(ranked).toHaveLength(faults.length + 1);
    expect(ranked.map(({ off }) => off)).toEqual(ranked.map(({ off }) => off).toSorted((a, b) => a - b));
    const dark = symptoms({ seen: { width: 'none', lamp: 0 } });
    const exactly = dark.ranked
      .filter(({ off }) => off === 0)
      .map(({ fault: at }) => plain(dark.rows[at]?.title ?? ''));
    expect(exactly).toEqual(expect.arrayContaining(['S1 never closes', 'BT1 not joined', 'TRIGGER of U1 never acts']));
    const healthy = symptoms({ seen: { width: interval } });
    expect(healthy.ranked[0]).toEqual({ fault: -1, off: expect.closeTo(0, 9) as number });
    expect(result.ranked).toEqual([]);
  });

  test('gives the same whatever the order of the jobs, and partial results of some', () => {
    const document = documentOf(boards, [{ ...cell, seen: { width: '1 s' } }]);
    const study = documentStudies(usable(document))[0]!.study;
    const jobs = runJobs(study);
    const whole = JSON.stringify(study.collect(jobs));
    const order = [...jobs.keys()].reverse();
    const again = new Map(order.map((index) => [index, JSON.parse(JSON.stringify(study.run(index))) as unknown]));
    expect(JSON.stringify(study.collect(again))).toBe(whole);
    const part = study.collect(new Map([[1, jobs.get(1)]])) as SymptomsResult;
    expect([part.asBuilt, part.rows.length, part.count]).toEqual([null, 8, result.count]);
    expect((study.collect(new Map()) as SymptomsResult).sentence).toBe('Nothing is computed yet.');
  });

  test('finds the faults of a board linked to another, and names them as the board does', () => {
    const linked = documentOf({ ...boards, other: { ready: 'astable' } }, [{ ...cell, until: '6 s' }], {
      links: [{ a: 'lamp.out', b: 'other.out', closed: false }],
    });
    const { rows: faults, further } = resultOf(computed(linked), 'bench', 'symptoms');
    expect(faults.map(({ title }) => plain(title))).toEqual(result.rows.map(({ title }) => plain(title)));
    expect(further.map(({ name }) => name)).toEqual(result.further.map(({ name }) => name));
  });

  test('refuses what was seen of readings that are not taken, and values that do not fit', () => {
    const refused = (seen: unknown): string[] => issuesOf(documentOf(boards, [{ ...cell, seen }]));
    expect(refused({ period: '1 s' })).toEqual(['page[0].seen.period: unknown-reading']);
    expect(refused({ width: '1 V' })).toEqual(['page[0].seen.width: bad-value']);
    expect(refused({ width: 'none' })).toEqual([]);
    expect(refused(3)).toEqual(['page[0].seen: wrong-type']);
  });
});

test('the faults of a relay and a buzzer are those of winding, contact and polarity, each with what one reads then', () => {
  const bell = {
    parts: [
      { name: 'BT1', kind: 'supply', plus: 'rail', minus: 'ground', voltage: '12 V', origin: 'isolated' },
      { name: 'S1', kind: 'button', a: 'rail', b: 'push', presses: [{ at: '1 s', for: '1 s' }] },
      {
        name: 'K1',
        kind: 'relay',
        a: 'push',
        b: 'ground',
        voltage: 12,
        resistance: 300,
        common: 'rail',
        normallyOpen: 'on',
      },
      { name: 'DX', kind: 'diode', a: 'ground', b: 'push' },
      { name: 'LS1', kind: 'buzzer', plus: 'on', minus: 'ground', resistance: 400, least: 8, most: 16 },
    ],
  };
  const take = { rung: 'width(on)', through: 'peak_current(LS1)' };
  const { rows } = symptoms({ board: 'bell', until: '3 s', take }, { bell });
  const told = (part: string): unknown[] =>
    rows.filter((row) => row.part === part).map(({ title, values }) => [plain(title), values[0]?.toFixed(3) ?? null]);
  // Press of 1 s; pull-in and drop-out both take 10 ms.
  expect(told('K1')).toEqual([
    ['winding of K1 open', null],
    // The supply has no resistance here, so that the short takes nothing from the winding.
    ['winding of K1 shorted', '1.000'],
    ['K1 has a dry joint (1 kΩ in series)', null],
    ['contact of K1 never closes', null],
    ['contact of K1 stays closed at rest', null],
  ]);
  expect(told('LS1').map((row) => (row as string[])[0])).toEqual([
    'LS1 open or missing',
    'LS1 reversed',
    'LS1 has a dry joint (1 kΩ in series)',
  ]);
  expect(rows.find(({ title }) => title === 'LS1 reversed')?.harms.join(' ')).toContain('may destroy the driver');
});
