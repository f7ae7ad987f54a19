import { LampLight, type ShownLight } from '#notebook/runtime/lamp-light.ts';
import { describe, expect, test } from 'vitest';

interface Frame extends ShownLight {
  readonly now: number;
}

/** Shows a lamp that is on for the first share of every period for some seconds of the page. */
function watch(
  frequency: number,
  options: { duty?: number; rate?: number; calm?: boolean; seconds?: number } = {},
): Frame[] {
  const { duty = 0.5, rate = 1, calm = false, seconds = 8 } = options;
  const lamp = new LampLight();
  const frames: Frame[] = [];
  const elapsed = 1 / 60;
  // Periods per second of the page; the lamp is first lit a little after the beginning.
  const onUntil = (time: number): number => {
    const turns = Math.max(0, time - 0.013) * frequency;
    return (Math.floor(turns) + Math.min(1, (turns % 1) / duty)) * (duty / frequency);
  };
  const risesUntil = (time: number): number => (time < 0.013 ? 0 : Math.floor((time - 0.013) * frequency) + 1);
  for (let frame = 1; frame <= seconds * 60; frame += 1) {
    const now = frame * elapsed;
    const [before, after] = [risesUntil(now - elapsed), risesUntil(now)];
    const timeOf = (count: number): number => (0.013 + (count - 1) / frequency) * rate;
    const sample = {
      now,
      elapsed,
      light: (onUntil(now) - onUntil(now - elapsed)) / elapsed,
      rises: after - before,
      firstRise: timeOf(before + 1),
      lastRise: timeOf(after),
    };
    frames.push({ now, ...lamp.pass(sample, calm) });
  }
  return frames;
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

describe('LampLight', () => {
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
    const lamp = new LampLight();
    const shown = Array.from({ length: 60 }, (_, step) => ({ now: step / 60, ...lamp.rest(step / 60, step % 2) }));
    expect(mostTurns(shown)).toBeLessThan(6);
    expect(lamp.rest(5, 0.4)).toEqual({ light: 0.4, steady: false });
  });
});
