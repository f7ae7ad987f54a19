import type { LightSample, ShownLight } from '#notebook/runtime/lamp-light.ts';
import { LampLights } from '#notebook/runtime/lamp-lights.ts';
import { describe, expect, test } from 'vitest';

interface Frame extends ShownLight {
  readonly now: number;
}

/** A frame of the page (s). */
const ELAPSED = 1 / 60;

/** A lamp that is on for the first share of every period, first at `from` (s of page time). */
interface Flashing {
  readonly frequency: number;
  readonly duty?: number;
  readonly from?: number;
  /** Seconds in the circuit for one of the page. */
  readonly rate?: number;
}

/** What a lamp does in the frame that ends now. */
function sampleOf({ frequency, duty = 0.5, from = 0.013, rate = 1 }: Flashing, now: number): LightSample {
  const onUntil = (time: number): number => {
    const turns = Math.max(0, time - from) * frequency;
    return (Math.floor(turns) + Math.min(1, (turns % 1) / duty)) * (duty / frequency);
  };
  const risesUntil = (time: number): number => (time < from ? 0 : Math.floor((time - from) * frequency) + 1);
  const [before, after] = [risesUntil(now - ELAPSED), risesUntil(now)];
  const timeOf = (count: number): number => (from + (count - 1) / frequency) * rate;
  return {
    now,
    elapsed: ELAPSED,
    light: (onUntil(now) - onUntil(now - ELAPSED)) / ELAPSED,
    rises: after - before,
    firstRise: timeOf(before + 1),
    lastRise: timeOf(after),
  };
}

/** Shows several lamps for some seconds of the page; the frames of each. */
function watchAll(lamps: readonly Flashing[], { calm = false, seconds = 8 } = {}): Frame[][] {
  const lights = new LampLights();
  const frames: Frame[][] = lamps.map(() => []);
  for (let frame = 1; frame <= seconds * 60; frame += 1) {
    const now = frame * ELAPSED;
    const shown = lights.pass(new Map(lamps.map((lamp, index) => [`D${index}`, sampleOf(lamp, now)])), calm);
    lamps.forEach((_, index) => {
      const light = shown.get(`D${index}`);
      if (light !== undefined) frames[index]?.push({ now, ...light });
    });
  }
  return frames;
}

/** Shows one lamp. */
function watch(
  frequency: number,
  { calm, seconds, ...options }: { duty?: number; rate?: number; calm?: boolean; seconds?: number } = {},
): Frame[] {
  const settings = { ...(calm === undefined ? {} : { calm }), ...(seconds === undefined ? {} : { seconds }) };
  return watchAll([{ frequency, ...options }], settings)[0] ?? [];
}

/**
 * The most times within any second that some lamp turns in a direction; those that turn in the same frame count once.
 * Counted anew from what is shown, apart from what decides it.
 */
function mostTogether(lamps: readonly (readonly Frame[])[], wanted: 1 | -1): number {
  const turns = new Set<number>();
  for (const frames of lamps) {
    let direction = 0;
    frames.forEach(({ now, light }, index) => {
      const change = Math.sign(light - (frames[index - 1]?.light ?? 0));
      if (change !== 0 && change !== direction && change === wanted) turns.add(now);
      if (change !== 0) direction = change;
    });
  }
  const times = [...turns];
  return Math.max(0, ...times.map((from) => times.filter((time) => time >= from && time < from + 1).length));
}

/** The most turns from brighter to darker or back within any second. */
function mostTurns(frames: readonly { now: number; light: number }[]): number {
  const turns: number[] = [];
  let direction = 0;
  frames.forEach(({ now, light }, index) => {
    const change = Math.sign(light - (frames[index - 1]?.light ?? 0));
    if (change !== 0 && change !== direction) {
      turns.push(now);
      direction = change;
    }
  });
  return Math.max(0, ...turns.map((from) => turns.filter((time) => time >= from && time < from + 1).length));
}

describe('one lamp', () => {
  test('a slow lamp is shown lit and dark as it is', () => {
    const frames = watch(1);
    expect(new Set(frames.map(({ steady }) => steady))).toEqual(new Set([false]));
    expect(frames.at(-1 - 15)?.light).not.toBe(frames.at(-1 - 45)?.light);
    expect(Math.max(...frames.map(({ light }) => light))).toBeCloseTo(1, 9);
  });

  // Two turns are a flash; WCAG 2.2, success criterion 2.3.1, allows three flashes in any second.
  test.each([0.5, 1, 2, 2.4, 2.6, 2.9, 3.1, 3.5, 5, 7, 12, 25, 29.7, 30, 59, 60, 61, 480, 20_000])(
    'a lamp at %d Hz never turns more than six times within a second',
    (frequency) => {
      for (const duty of [0.1, 0.5, 0.9]) expect(mostTurns(watch(frequency, { duty })), `${duty}`).toBeLessThan(6);
    },
  );

  test.each([3.1, 12, 480])('at %d Hz it stands in its mean light with its frequency', (frequency) => {
    const frames = watch(frequency, { duty: 0.3 });
    const settled = frames.filter(({ now }) => now > 3.5);
    expect(settled.every(({ steady }) => steady)).toBe(true);
    // Steps of 0.05, and at the slowest the edges of the time over which the mean is taken.
    for (const { light } of settled) expect(Math.abs(light - 0.3)).toBeLessThan(0.11);
    expect(settled.at(-1)?.frequency).toBeCloseTo(frequency, 6);
    expect(mostTurns(settled)).toBeLessThan(2);
  });

  test('the frequency is that in the circuit, however its time is scaled', () => {
    expect(watch(10, { rate: 1e-3 }).at(-1)?.frequency).toBeCloseTo(10_000, 3);
  });

  test('where calm is asked for, a slow lamp is steady too', () => {
    const frames = watch(1, { calm: true, seconds: 12 }).filter(({ now }) => now > 4);
    expect(frames.every(({ steady }) => steady)).toBe(true);
  });

  test('when time stands still, the lamp shows what it is, but never by flashing', () => {
    const lights = new LampLights();
    const rest = (now: number, light: number) =>
      lights.rest(now, new Map([['D1', light]])).get('D1') ?? { light: NaN, steady: true };
    const shown = Array.from({ length: 60 }, (_, step) => ({ now: step / 60, ...rest(step / 60, step % 2) }));
    expect(mostTurns(shown)).toBeLessThan(6);
    expect(rest(5, 0.4)).toEqual({ light: 0.4, steady: false });
  });
});

describe('several lamps together', () => {
  // WCAG 2.2, success criterion 2.3.1: three flashes in any second, on all of the page.
  const crowds: [string, Flashing[]][] = [
    ['two that alternate at 1 Hz', [{ frequency: 1 }, { frequency: 1, from: 0.513 }]],
    ['two that alternate at 2 Hz', [{ frequency: 2 }, { frequency: 2, from: 0.263 }]],
    ['four in turn at 1 Hz', [0, 1, 2, 3].map((turn) => ({ frequency: 1, from: 0.013 + turn / 4 }))],
    ['slow and fast ones', [0.7, 1.3, 2.2, 3.7, 11, 480].map((frequency) => ({ frequency }))],
    ['ten that drift past each other', Array.from({ length: 10 }, (_, each) => ({ frequency: 0.9 + each / 50 }))],
    ['short blinks', [0.8, 0.9, 1.1, 1.7].map((frequency) => ({ frequency, duty: 0.1 }))],
  ];
  test.each(crowds)('%s never flash more than three times within a second', (_, lamps) => {
    const frames = watchAll(lamps, { seconds: 20 });
    expect(mostTogether(frames, 1)).toBeLessThanOrEqual(3);
    expect(mostTogether(frames, -1)).toBeLessThanOrEqual(3);
  });

  const steadyAtEnd = (lamps: readonly Flashing[]) =>
    watchAll(lamps, { seconds: 12 }).map((each) => each.at(-1)?.steady);

  test('the slowest goes on flashing beside one of which sometimes more, sometimes fewer rises are remembered', () => {
    const [slowest = []] = watchAll(
      [0.6, 1.7, 2.3, 6, 40].map((frequency, k) => ({ frequency, from: 0.013 + 0.08 * k })),
      {
        seconds: 12,
      },
    );
    // Once each has risen twice, it is known which is the slowest.
    expect(slowest.filter(({ now, steady }) => now > 2 && steady)).toEqual([]);
  });

  test('once calm is no longer asked for, lamps that are slow enough flash at once', () => {
    const lights = new LampLights();
    const lamps = [{ frequency: 1 }, { frequency: 1, from: 0.513 }];
    for (let frame = 1; frame <= 241; frame += 1) {
      const now = frame * ELAPSED;
      const shown = lights.pass(new Map(lamps.map((lamp, index) => [`D${index}`, sampleOf(lamp, now)])), frame <= 240);
      expect([...shown.values()].map(({ steady }) => steady)).toEqual(frame <= 240 ? [true, true] : [false, false]);
    }
  });

  test('the slowest are shown as they flash, the others steady with their frequency', () => {
    expect(steadyAtEnd([{ frequency: 2.2 }, { frequency: 0.4 }, { frequency: 7 }])).toEqual([true, false, true]);
    const [fast] = watchAll([{ frequency: 2.2 }, { frequency: 0.4 }], { seconds: 12 });
    expect(fast?.at(-1)?.frequency).toBeCloseTo(2.2, 6);
  });

  test('lamps that alternate are shown alike', () => {
    expect(steadyAtEnd([{ frequency: 1 }, { frequency: 1, from: 0.513 }])).toEqual([false, false]);
    expect(steadyAtEnd([{ frequency: 2 }, { frequency: 2, from: 0.263 }])).toEqual([true, true]);
  });

  test('lamps that light up together are one light and stay as they are', () => {
    const lamps = [2, 2, 2].map((frequency) => ({ frequency }));
    expect(steadyAtEnd(lamps)).toEqual([false, false, false]);
  });

  test('two slow lamps are shown at every change, as if each were alone', () => {
    const lamps: Flashing[] = [{ frequency: 0.6 }, { frequency: 0.5, from: 0.313 }];
    const [first, second] = watchAll(lamps, { seconds: 12 });
    const alone = lamps.map((lamp) => watchAll([lamp], { seconds: 12 })[0]);
    expect(first).toEqual(alone[0]);
    expect(second).toEqual(alone[1]);
  });
});
