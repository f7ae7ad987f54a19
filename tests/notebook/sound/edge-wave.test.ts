import { EdgeWave } from '#notebook/sound/edge-wave.ts';
import { expect, test } from 'vitest';

/** The strength of one frequency in samples, by correlation. */
function strength(samples: Float32Array, cyclesPerSample: number): number {
  let real = 0;
  let imaginary = 0;
  samples.forEach((sample, index) => {
    real += sample * Math.cos(2 * Math.PI * cyclesPerSample * index);
    imaginary += sample * Math.sin(2 * Math.PI * cyclesPerSample * index);
  });
  return (2 * Math.hypot(real, imaginary)) / samples.length;
}

/** Steps of a square wave of this many samples a period, inside [from, until), counted from `from`. */
function steps(period: number, from: number, until: number): number[] {
  const half = period / 2;
  const found: number[] = [];
  for (let step = Math.ceil(from / half); step * half < until; step += 1) {
    if (step > 0) found.push(step * half - from);
  }
  return found;
}

test('a step stands at its exact place between two samples', () => {
  const wave = new EdgeWave();
  const samples = wave.render(8, false, [3.25]);
  expect([...samples.slice(0, 3)]).toEqual([-1, -1, -1]);
  expect([...samples.slice(5)]).toEqual([1, 1, 1]);
  // The area under the samples is that under the step: 3.25 samples at -1 and the rest at 1, counted by trapezia.
  const area = samples.reduce((sum, sample) => sum + sample, 0) - ((samples[0] ?? 0) + (samples[7] ?? 0)) / 2;
  expect(area).toBeCloseTo(-3.25 + (7 - 3.25), 6);
});

test('pieces join without a seam: cut anywhere, the samples are the same', () => {
  const period = 37.3;
  const whole = new EdgeWave().render(400, true, steps(period, 0, 400));
  const wave = new EdgeWave();
  const cut: number[] = [];
  for (const [from, until] of [
    [0, 93],
    [93, 94],
    [94, 280],
    [280, 400],
  ] as const) {
    const isHigh = Math.floor(from / (period / 2)) % 2 === 0;
    cut.push(...wave.render(until - from, isHigh, steps(period, from, until)));
  }
  cut.forEach((sample, index) => expect(sample, `${index}`).toBeCloseTo(whole[index] ?? NaN, 5));
});

test('a square wave keeps its tone, and what folds back from above the band is weaker than without care', () => {
  // 10 samples and a bit a period: the 9th harmonic lies beyond half the sample rate and folds back.
  const period = 10.37;
  const length = 8192;
  const samples = new EdgeWave().render(length, true, steps(period, 0, length));
  // 4 / pi: the first harmonic of a square wave of height 1, less the widening of the steps: sinc² of 1/10.37 is 0.97.
  expect(strength(samples, 1 / period)).toBeCloseTo((4 / Math.PI) * 0.97, 2);
  const naive = Float32Array.from({ length }, (_, index) => (Math.floor(index / (period / 2)) % 2 === 0 ? 1 : -1));
  const folded = 1 - 9 / period;
  expect(strength(samples, folded)).toBeLessThan(strength(naive, folded) / 4);
});
