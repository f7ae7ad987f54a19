import { boardSubject, boardValue } from '#sim/document/board-subject.ts';
import { checkBoards } from '#sim/document/board-table.ts';
import { parseReading } from '#sim/measure/parse-reading.ts';
import { linearPoints } from '#sim/study/axis.ts';
import { type MapPlan, mapStudy, type MapTile } from '#sim/study/map.ts';
import { mapWords } from '#sim/study/map-words.ts';
import type { Subject } from '#sim/study/subject.ts';
import { isUneven } from '#sim/study/ratio-steps.ts';
import { runStudy } from '#sim/study/study.ts';
import { describe, expect, test } from 'vitest';
import { plain } from '../../support/circuit-issues.ts';
import { documentOf, usable } from '../../support/documents.ts';

function counter(values: object = {}, names = ['R1', 'G1.wave.period']): Subject {
  const boards = { counter: { ready: 'frequency divider', values: { 'U1.family': 'ideal', ...values } } };
  const board = checkBoards(usable(documentOf(boards, []))).boards.get('counter');
  if (board?.ok !== true) throw new Error('the board must be good');
  const found = names.map((name) => boardValue(name, board));
  return boardSubject(
    board,
    found.flatMap((each) => (each.ok ? [each.value] : [])),
  );
}

const plan: MapPlan = {
  x: { name: 'R1', unit: 'Ω', points: linearPoints(40e3, 130e3, 14), scale: 'linear' },
  y: { name: 'G1.wave.period', unit: 's', points: linearPoints(0.15, 0.45, 13), scale: 'linear' },
  readings: [parseReading('ratio(out, in)')],
  window: { from: 0, until: 5 },
  maxEvents: 1e6,
  timer: 'U1',
};
const capacitance = 4.7e-6;

// Times are for a machine that does other things as well.
describe('mapStudy(plan, subject)', () => {
  const study = mapStudy(plan, counter());
  const outcome = runStudy(study);

  test('gives the ratio at every point', () => {
    expect(outcome.points.map((line) => line.length)).toEqual(Array<number>(14).fill(15));
    for (const [row, line] of outcome.points.entries()) {
      for (const [column, point] of line.entries()) {
        // Ideal family: T = R C ln 3, ratio floor(T / Tin) + 1 (closed form, model.md). No point lies on a boundary.
        const interval = plan.x.points[column]! * capacitance * Math.log(3);
        expect(point?.z).toBe(Math.floor(interval / plan.y.points[row]!) + 1);
        expect(isUneven(point?.steps ?? null)).toBe(false);
      }
    }
  });

  test('draws the boundaries where T = k Tin, to 1e-6, not along the grid', () => {
    expect(outcome.contours.map(({ between }) => between)).toEqual([
      ['1', '2'],
      ['2', '3'],
      ['3', '4'],
      ['4', '5'],
    ]);
    for (const { between, lines } of outcome.contours) {
      const k = Number(between?.[0]);
      // Each boundary is one straight line from rim to rim of the map.
      expect(lines).toHaveLength(1);
      expect(lines[0]!.length).toBeGreaterThan(3);
      for (const [x, y] of lines[0]!)
        expect(Math.abs((x * capacitance * Math.log(3)) / (k * y) - 1)).toBeLessThan(1e-6);
    }
  });

  test('follows levels of any reading', () => {
    const width = { ...plan, readings: [parseReading('width(out)')], levels: [0.3, 0.5] };
    const { contours } = runStudy(mapStudy({ ...width, timer: undefined }, counter({ 'G1.wave.width': '1 µs' })));
    expect(contours.map(({ level }) => level)).toEqual([0.3, 0.5]);
    for (const { level, lines } of contours) {
      // The width is R C ln 3, whatever the spacing of the pulses (closed form, ideal family; pulses of 1 µs hold nothing).
      for (const [x] of lines.flat()) expect(Math.abs((x * capacitance * Math.log(3)) / level! - 1)).toBeLessThan(1e-6);
    }
  });

  test('gives the same whatever the order of its jobs, and survives JSON', () => {
    expect(study.jobCount).toBe(4);
    const backward = new Map<number, MapTile>();
    for (const index of [2, 0, 3, 1]) {
      backward.set(index, JSON.parse(JSON.stringify(study.run(index))) as MapTile);
    }
    expect(study.collect(backward)).toEqual(outcome);
  });

  test('gives of a part of its jobs the points and boundaries that are known', () => {
    const { points, contours, share } = study.collect(new Map([[0, study.run(0)!]]));
    expect(share).toBe(0.25);
    const known = points.map((line) => line.filter((point) => point !== null).length);
    expect(known).toEqual([...Array<number>(9).fill(9), ...Array<number>(5).fill(0)]);
    expect(contours.length).toBeGreaterThan(1);
    for (const [x, y] of contours.flatMap(({ lines }) => lines.flat())) {
      expect(x).toBeLessThanOrEqual(plan.x.points[8]!);
      expect(y).toBeLessThanOrEqual(plan.y.points[8]!);
    }
    expect(study.run(1, { aborted: true })).toBeUndefined();
  });

  test('says in words what it found, with its own numbers', () => {
    const words = plain(mapWords(plan, 'ratio', outcome));
    expect(words).toContain(
      'ratio over R1 from 40.0 kΩ to 130 kΩ and G1 period from 150 ms to 450 ms (15 by 14 points)',
    );
    expect(words).toMatch(/it goes from 1 \(at R1 .*\) to 5 \(at R1 .*G1 period 150 ms\)/);
    expect(words).not.toContain('not the same from output to output');
    expect(mapWords(plan, 'ratio', study.collect(new Map()))).toBe('Nothing is computed yet.');
  });
});

describe('mapStudy(plan, subject): where the capacitor has no time to empty', () => {
  test('flags the points, draws their region, and explains one of them from its own run', () => {
    // 220 µF over 100 Ω take 22 ms for each factor of e: an interval that ends that short before a pulse leaves charge.
    const subject = counter({ C1: '220 µF', 'U1.with': { dischargeResistance: 100 }, 'G1.wave.width': '1 ms' });
    const axes = {
      x: { ...plan.x, points: linearPoints(1e3, 2e3, 12) },
      y: { ...plan.y, points: linearPoints(0.14, 0.2, 8) },
    };
    const outcome = runStudy(mapStudy({ ...plan, ...axes }, subject));
    const uneven = outcome.points.flat().filter((point) => isUneven(point?.steps ?? null));
    expect(uneven.length).toBeGreaterThan(0);
    expect(uneven.length).toBeLessThan(outcome.points.flat().length);
    expect(uneven.every((point) => point?.region === 'uneven')).toBe(true);
    expect(outcome.contours.some(({ between }) => between?.includes('uneven'))).toBe(true);
    expect(outcome.sample?.explanation).toContain('the ratio is not constant');
    const words = mapWords({ ...plan, ...axes }, 'ratio', outcome);
    expect(words).toContain(`At ${uneven.length} of ${13 * 9} points`);
    expect(words).toContain(outcome.sample?.explanation);
  });

  // From decision 14: what is left over doubles about with every output, so that a millionth is a whole pulse after some
  // twenty (log2 of a million) and more; rounding, at 1e-16, would need some fifty.
  test('tells that the order of steps cannot be foretold, by a run with a value a millionth larger', () => {
    const subject = counter({ C1: '220 µF', 'U1.with': { dischargeResistance: 100 }, 'G1.wave.width': '1 ms' });
    const axes = {
      x: { ...plan.x, points: linearPoints(1e3, 2e3, 12) },
      y: { ...plan.y, points: linearPoints(0.14, 0.2, 8) },
    };
    const outcome = runStudy(mapStudy({ ...plan, ...axes }, subject));
    const parting = outcome.orders.filter(({ partsAt }) => partsAt !== null);
    expect(parting.length).toBeGreaterThan(0);
    for (const { compared, partsAt } of parting) {
      expect(partsAt).toBeGreaterThan(8);
      expect(partsAt).toBeLessThanOrEqual(compared);
    }
    const words = plain(mapWords({ ...plan, ...axes }, 'ratio', outcome));
    const { partsAt } = parting[0]!;
    expect(words).toMatch(
      /At (all|\d+) of \d+ such points tried, nobody can foretell in which order its steps come, only/,
    );
    expect(words).toContain(`with R1 larger by a millionth, step ${partsAt} is another one already (R1 `);
  });

  test('tells where uneven steps come in an order that can be foretold', () => {
    // Pulses in twos: an interval that begins with the first of two swallows the second, in turns with one that is over in time.
    const points: [number, number][] = [];
    for (let turn = 0; turn < 400; turn++) {
      for (const at of [0, 0.1, 0.35].map((offset) => 0.01 + 0.6 * turn + offset))
        points.push([at, 0], [at + 0.001, 12]);
    }
    const wave = { shape: 'points', between: 'steps', points: [[0, 12], ...points] };
    const subject = counter({ 'G1.wave': wave }, ['R1', 'C1']);
    const axes = {
      x: { ...plan.x, points: [20e3, 22e3] },
      y: { name: 'C1', unit: 'F', points: [4.7e-6, 5e-6], scale: 'linear' },
    } as const;
    const outcome = runStudy(mapStudy({ ...plan, ...axes, window: { from: 0, until: 20 } }, subject));
    // Intervals of R C ln 3 = 103 to 121 ms: of the pulses 0, 100, 350 and 600 ms apart, the second of each three is ignored.
    expect(outcome.sample?.steps).toEqual({ least: 1, most: 2 });
    expect(outcome.orders).toHaveLength(4);
    for (const order of outcome.orders) expect(order).toMatchObject({ compared: 200, partsAt: null });
    expect(mapWords({ ...plan, ...axes }, 'ratio', outcome)).toContain(
      'Where it was tried, at 4 such points, its steps can be foretold: with R1 larger by a millionth, the first 200 are the same.',
    );
  });
});
