import { seededRandom } from '#sim/core/random.ts';
import { boardSubject, boardValue } from '#sim/document/board-subject.ts';
import { checkBoards } from '#sim/document/board-table.ts';
import { parseReading } from '#sim/measure/parse-reading.ts';
import { type SpreadFindings, spreadFindings, type SpreadLimits } from '#sim/study/spread-findings.ts';
import { drawnPlaces, type SpreadQuantity, valueAt } from '#sim/study/spread-quantity.ts';
import { varianceShares } from '#sim/study/spread-shares.ts';
import { QUANTILES, statisticsOf, wilsonInterval } from '#sim/study/spread-statistics.ts';
import { cornerPlaces, searchWorst } from '#sim/study/spread-worst.ts';
import { type SpreadJob, type SpreadPlan, spreadStudy } from '#sim/study/spread.ts';
import { runStudy } from '#sim/study/study.ts';
import type { Subject } from '#sim/study/subject.ts';
import { describe, expect, test } from 'vitest';
import { documentOf, usable } from '../../support/documents.ts';
import { processorTime } from '../../support/processor-time.ts';

const resistance = 390e3;
const capacitance = 10e-6;
const quantities: readonly SpreadQuantity[] = [
  { name: 'R1', unit: 'Ω', nominal: resistance, from: resistance * 0.95, to: resistance * 1.05, reciprocal: false },
  { name: 'C1', unit: 'F', nominal: capacitance, from: capacitance * 0.8, to: capacitance * 1.2, reciprocal: false },
];

/** The platform lamp with an ideal timer: its interval is R1 C1 ln 3 exactly (closed form). */
function lamp(names: readonly string[], values: object = {}): Subject {
  const boards = { lamp: { ready: 'monostable', values: { 'U1.family': 'ideal', ...values } } };
  const board = checkBoards(usable(documentOf(boards, []))).boards.get('lamp');
  if (board?.ok !== true) throw new Error('the board must be good');
  const named = names.map((name) => boardValue(name, board));
  return boardSubject(
    board,
    named.map((each) => {
      if (!each.ok) throw new Error(each.message);
      return each.value;
    }),
  );
}

function planOf(change: Partial<SpreadPlan> = {}): SpreadPlan {
  return {
    quantities,
    law: 'uniform',
    samples: 800,
    seed: 1,
    readings: [parseReading('width(out)')],
    window: { from: 0, until: 10 },
    maxEvents: 1e6,
    ...change,
  };
}

function found(plan: SpreadPlan, subject: Subject, limits: SpreadLimits | null = null): SpreadFindings {
  return spreadFindings(plan.quantities, [limits], runStudy(spreadStudy(plan, subject)));
}

// Times are for a machine that does other things as well.
describe('spreadStudy(plan, subject)', () => {
  const interval = resistance * capacitance * Math.log(3);

  test.each([
    // Variance of a uniform distribution from -1 to 1 (closed form).
    ['uniform', 1 / 3],
    // Of a normal one of deviation 1/3 cut at three deviations: (1 - 6 phi(3) / (2 Phi(3) - 1)) / 9 (closed form).
    ['normal', (1 - (6 * 0.004431848411938) / 0.9973002039367398) / 9],
  ] as const)('gives mean and variance of a product of two %s values, as in closed form', (law, unit) => {
    const plan = planOf({ law });
    const { statistics, variance } = found(plan, lamp(['R1', 'C1'])).readings[0]!;
    // T = T0 (1 + 0.05 p)(1 + 0.2 q) with p, q independent, mean 0, variance `unit`: (closed form)
    const [r, c] = [0.05 ** 2 * unit, 0.2 ** 2 * unit];
    const deviation = interval * Math.sqrt(r + c + r * c);
    expect(statistics.count).toBe(800);
    // Four standard errors of a mean and of a deviation of 800 samples; of a flat distribution less than of a normal one.
    expect(Math.abs(statistics.mean! - interval)).toBeLessThan((4 * deviation) / Math.sqrt(800));
    expect(Math.abs(statistics.deviation! / deviation - 1)).toBeLessThan(4 / Math.sqrt(2 * 800));
    // Shares r : c, but for what the two do together (closed form); 0.01: chance in 800 samples.
    expect(Math.abs(variance!.shares[0]! - r / (r + c + r * c))).toBeLessThan(0.01);
    expect(Math.abs(variance!.shares[1]! - c / (r + c + r * c))).toBeLessThan(0.01);
    expect(variance!.rest).toBeLessThan(0.01);
    expect(variance!.shares[0]! + variance!.shares[1]! + variance!.rest).toBeCloseTo(1, 12);
  });

  test('finds the worst case of all corners, and says where it is', () => {
    const plan = planOf({ samples: 100 });
    const outcome = runStudy(spreadStudy(plan, lamp(['R1', 'C1'])));
    const { worst } = spreadFindings(quantities, [null], outcome).readings[0]!;
    // The corners of a product of positive values (closed form): all at the low, all at the high end.
    expect(worst.least?.value).toBeCloseTo(interval * 0.95 * 0.8, 10);
    expect(worst.greatest?.value).toBeCloseTo(interval * 1.05 * 1.2, 10);
    expect(worst.least?.at).toEqual([resistance * 0.95, capacitance * 0.8]);
    expect([worst.least?.found, worst.greatest?.found]).toEqual(['corner', 'corner']);
    expect(outcome.corners).toHaveLength(4);
  });

  test('says so where the extreme is at no corner', () => {
    // Half of the supply at the middle of R2, most of all: power into a load is greatest where it equals what feeds it.
    const load: readonly SpreadQuantity[] = [
      { name: 'R2', unit: 'Ω', nominal: 1000, from: 500, to: 2300, reciprocal: false },
    ];
    const subject = divider();
    const plan = planOf({
      quantities: load,
      samples: 50,
      readings: [parseReading('power(R2)')],
      window: { from: 0, until: 1 },
    });
    const { worst } = found(plan, subject).readings[0]!;
    // 10 V over 1 kΩ and R2: R2 (10 / (1000 + R2))^2 is greatest at 1 kΩ, 25 mW, and least at 2.3 kΩ, 21.1 mW (closed form).
    expect(worst.greatest?.found).not.toBe('corner');
    expect(worst.greatest?.value).toBeGreaterThan(0.02499);
    expect(worst.greatest?.value).toBeLessThanOrEqual(0.025 * (1 + 1e-12));
    expect(worst.greatest?.corner).toBeCloseTo((500 * 100) / 1500 ** 2, 12);
    expect(worst.least).toMatchObject({ found: 'corner', at: [2300] });
    expect(worst.least?.value).toBeCloseTo((2300 * 100) / 3300 ** 2, 12);
  });

  test('counts the share inside limits, with what can be said of all boards', () => {
    const plan = planOf();
    const { limits } = found(plan, lamp(['R1', 'C1']), { low: interval * 0.9, high: interval * 1.1 }).readings[0]!;
    // P(|(1 + 0.05 p)(1 + 0.2 q) - 1| <= 0.1): for given p, q from (0.9 / (1 + 0.05 p) - 1) / 0.2 to the same with 1.1,
    // half of that length is the share; summed over p in steps of 0.001 (closed form, midpoint rule).
    let sum = 0;
    for (let p = -0.9995; p < 1; p += 0.001) sum += 0.2 / (1 + 0.05 * p) / 0.2 / 2;
    const expected = sum / 2000;
    // Four standard errors.
    expect(Math.abs(limits!.share - expected)).toBeLessThan(4 * Math.sqrt((expected * (1 - expected)) / 800));
    expect(limits!.confidence[0]).toBeLessThan(limits!.share);
    expect(limits!.confidence[1]).toBeGreaterThan(limits!.share);
  });

  test.each(['uniform', 'normal'] as const)('leaves %s samples as they are where there are more of them', (law) => {
    // Jobs hold 25: whole ones, and one cut short.
    const [few, more] = [30, 60].map(
      (samples) => runStudy(spreadStudy(planOf({ samples, law }), lamp(['R1', 'C1']))).samples,
    );
    expect(more!.slice(0, 30)).toEqual(few);
    expect(new Set(more!.map(({ places }) => places[0])).size).toBe(60);
  });

  test('gives the same whatever the order of its jobs, and survives JSON', () => {
    const plan = planOf({ samples: 60 });
    const study = spreadStudy(plan, lamp(['R1', 'C1']));
    const forward = runStudy(study);
    const backward = new Map<number, SpreadJob>();
    for (let index = study.jobCount - 1; index >= 0; index--) {
      backward.set(index, JSON.parse(JSON.stringify(study.run(index))) as SpreadJob);
    }
    expect(study.collect(backward)).toEqual(forward);
    expect(forward.samples).toHaveLength(60);
    expect(forward.share).toBe(1);
    // More samples begin with the same ones.
    const more = runStudy(spreadStudy({ ...plan, samples: 70 }, lamp(['R1', 'C1'])));
    expect(more.samples.slice(0, 60)).toEqual(forward.samples);
    const other = runStudy(spreadStudy({ ...plan, seed: 2 }, lamp(['R1', 'C1'])));
    expect(other.samples[0]).not.toEqual(forward.samples[0]);
  });

  test('keeps what is done when it is stopped, within a tenth of a second', () => {
    const study = spreadStudy(planOf({ samples: 100_000 }), lamp(['R1', 'C1']));
    // The time of the processor counts, the best of a few: other tests run beside this one. It is spent between two looks at
    // the signal, and on making a result of what is done.
    let least = Infinity;
    for (let attempt = 0; attempt < 3 && least >= 100; attempt++) {
      const stopAt = processorTime() + 200;
      let lastAsked = processorTime();
      let longest = 0;
      const signal = {
        get aborted(): boolean {
          const now = processorTime();
          longest = Math.max(longest, now - lastAsked);
          lastAsked = now;
          return now > stopAt;
        },
      };
      const { samples, share } = runStudy(study, { signal });
      least = Math.min(least, longest + processorTime() - lastAsked);
      expect(share).toBeLessThan(1);
      expect(samples.length).toBeLessThan(100_000);
    }
    expect(least).toBeLessThan(100);
    expect(study.collect(new Map())).toMatchObject({ nominal: null, samples: [], share: 0 });
  });

  test('counts samples without a value, which are never inside, and says why', () => {
    // Until 5 s an interval that begins at 1 s ends only if it is shorter than 4 s.
    const plan = planOf({ samples: 200, window: { from: 0, until: 5 } });
    const { statistics, missing, reasons, limits, cornersMissing } = found(plan, lamp(['R1', 'C1']), {
      low: 0,
      high: null,
    }).readings[0]!;
    expect(missing).toBeGreaterThan(25);
    expect(statistics.count + missing).toBe(200);
    expect(statistics.greatest).toBeLessThan(4);
    expect(limits).toMatchObject({ inside: statistics.count, of: 200 });
    expect(reasons[0]?.reason).toContain('out');
    expect(cornersMissing).toBe(2);
  });

  test('spreads a leakage as a current, up to none at all', () => {
    const leak: readonly SpreadQuantity[] = [
      { name: 'C1.leakage', unit: 'Ω', nominal: null, from: 0, to: 1e-6, reciprocal: true },
    ];
    const { worst, nominal } = found(planOf({ quantities: leak, samples: 50 }), lamp(['C1.leakage'])).readings[0]!;
    // R with a leakage r beside C: the aim is r / (R + r) of the supply, tau = C R r / (R + r) (closed form).
    const [aim, tau] = [1e6 / (resistance + 1e6), (capacitance * resistance * 1e6) / (resistance + 1e6)];
    expect(worst.greatest?.value).toBeCloseTo(tau * Math.log(aim / (aim - 2 / 3)), 9);
    expect(worst.least).toMatchObject({ at: [null], found: 'corner' });
    expect(worst.least?.value).toBeCloseTo(interval, 9);
    expect(nominal).toBeCloseTo(interval, 9);
  });
});

/** A resistor of 1 kΩ from 10 V to R2: what the load takes. */
function divider(): Subject {
  const boards = {
    divider: {
      parts: [
        { name: 'BT1', kind: 'supply', plus: 'rail', minus: 'ground', voltage: 10 },
        { name: 'R1', kind: 'resistor', a: 'rail', b: 'load', resistance: 1000 },
        { name: 'R2', kind: 'resistor', a: 'load', b: 'ground', resistance: 1000 },
      ],
    },
  };
  const board = checkBoards(usable(documentOf(boards, []))).boards.get('divider');
  const value = board?.ok === true ? boardValue('R2', board) : undefined;
  if (board?.ok !== true || value?.ok !== true) throw new Error('the board must be good');
  return boardSubject(board, [value.value]);
}

describe('drawnPlaces(law, count, random)', () => {
  test('stays within the limits, and fills them', () => {
    for (const law of ['uniform', 'normal'] as const) {
      const random = seededRandom(7);
      const places = Array.from({ length: 4000 }, () => drawnPlaces(law, 1, random)[0]!);
      expect(places.every((place) => Math.abs(place) <= 1)).toBe(true);
      // Beyond half of the range: 1/2 of uniform ones; of normal ones cut at 3 deviations those beyond 1.5, 13.1 % (tables
      // of the normal distribution: 2 Phi(-1.5) = 0.1336, less 0.0027, over 0.9973).
      const beyond = places.filter((place) => Math.abs(place) > 0.5).length / 4000;
      expect(Math.abs(beyond - (law === 'uniform' ? 0.5 : 0.1313))).toBeLessThan(0.03);
    }
  });
});

describe('valueAt(quantity, place)', () => {
  test('gives the ends exactly', () => {
    const quantity = { ...quantities[0]!, from: 0.1, to: 0.3 };
    expect([valueAt(quantity, -1), valueAt(quantity, 1)]).toEqual([0.1, 0.3]);
    expect(valueAt({ ...quantity, reciprocal: true, from: 0 }, -1)).toBe(Infinity);
  });
});

describe('statisticsOf(values)', () => {
  test('gives the statistics of five numbers', () => {
    // By hand: mean 4, squares 9 + 4 + 0 + 1 + 36 - ... = (1-4)^2 + (2-4)^2 + (3-4)^2 + (4-4)^2 + (10-4)^2 = 50, over 4.
    const { mean, deviation, least, greatest, quantiles } = statisticsOf([10, 2, 3, 4, 1]);
    expect([mean, deviation, least, greatest]).toEqual([4, Math.sqrt(12.5), 1, 10]);
    // Definition 7 of Hyndman and Fan: place (n - 1) p counted from 0.
    expect(quantiles[QUANTILES.indexOf(0.5)]).toBe(3);
    expect(quantiles[QUANTILES.indexOf(0.75)]).toBe(4);
    expect(quantiles[QUANTILES.indexOf(0.95)]).toBeCloseTo(4 + 0.8 * 6, 12);
  });

  test('counts every number once, whole numbers in bins of their own', () => {
    expect(statisticsOf([2, 3, 3, 5]).bins).toEqual([
      { from: 1.5, to: 2.5, count: 1 },
      { from: 2.5, to: 3.5, count: 2 },
      { from: 3.5, to: 4.5, count: 0 },
      { from: 4.5, to: 5.5, count: 1 },
    ]);
    const { bins } = statisticsOf(Array.from({ length: 1000 }, (_, index) => index / 999 + 0.1));
    expect(bins.reduce((sum, { count }) => sum + count, 0)).toBe(1000);
    expect([bins[0]?.from, bins.at(-1)?.to, bins.length]).toEqual([0.1, 1.1, 32]);
    expect(statisticsOf([0.5, 0.5]).bins).toEqual([{ from: 0.5, to: 0.5, count: 2 }]);
    expect(statisticsOf([])).toMatchObject({ count: 0, mean: null, bins: [] });
  });
});

describe('wilsonInterval(count, of)', () => {
  test('gives the score interval', () => {
    // 8 of 10 at z = 1.96: (0.8 + 0.19208) / 1.38415 -+ 1.96 sqrt(0.016 + 0.0096040) / 1.38415 = 0.4902 to 0.9433 (by hand).
    const [low, high] = wilsonInterval(8, 10);
    expect(low).toBeCloseTo(0.4902, 3);
    expect(high).toBeCloseTo(0.9433, 3);
    // All of n: from n / (n + z^2) to 1 (closed form).
    expect(wilsonInterval(50, 50)[0]).toBeCloseTo(50 / (50 + 1.959963984540054 ** 2), 12);
    expect(wilsonInterval(50, 50)[1]).toBe(1);
    expect(wilsonInterval(0, 50)[0]).toBe(0);
    expect(wilsonInterval(0, 0)).toEqual([0, 1]);
  });
});

describe('varianceShares(places, values)', () => {
  test('says nothing of a reading that does not vary, or of too few samples', () => {
    const random = seededRandom(1);
    const places = Array.from({ length: 20 }, () => drawnPlaces('uniform', 2, random));
    expect(varianceShares(places, new Array<number>(20).fill(0.1))).toBe(undefined);
    expect(varianceShares(places.slice(0, 5), [1, 2, 3, 4, 5])).toBe(undefined);
  });

  test('leaves to the rest what no straight line explains', () => {
    const random = seededRandom(1);
    const places = Array.from({ length: 2000 }, () => drawnPlaces('uniform', 2, random));
    // p^2 has no slope over a range about 0, and p q has none in either (closed form).
    const { shares, rest } = varianceShares(
      places,
      places.map(([p = 0, q = 0]) => p ** 2 + p * q),
    )!;
    expect(rest).toBeGreaterThan(0.98);
    expect(Math.max(...shares)).toBeLessThan(0.02);
  });
});

describe('searchWorst(count, reading, direction, look)', () => {
  test('finds a corner as good as the best of all corners where ranges are many', () => {
    // Terms of two ranges each, so that no range alone points to its end.
    const value = (places: readonly number[]): number =>
      places.reduce((sum, place, index) => sum + (index + 1) * place + 3 * place * (places[index + 1] ?? 0), 0);
    const count = 9;
    const all = Array.from({ length: 2 ** count }, (_, index) => value(cornerPlaces(count, index)));
    const best = searchWorst(count, 0, 1, (places) => ({
      measured: [{ value: value(places) }],
      units: [null],
      failed: null,
    }));
    expect(best?.evaluation.measured[0]?.value).toBe(Math.max(...all));
  });
});
