import { jobRandom } from '#sim/study/job-random.ts';
import { runStudy, runStudyInSteps, type Study } from '#sim/study/study.ts';
import { describe, expect, test } from 'vitest';

/** Squares of the job numbers; the result lists what is there. */
const squares: Study<number, string> = {
  jobCount: 5,
  run: (index, signal) => (signal?.aborted === true ? undefined : index * index),
  collect: (jobs) => Array.from({ length: 5 }, (_, index) => jobs.get(index) ?? '-').join(' '),
};

describe('runStudy(study)', () => {
  test('runs every job and tells how far it is', () => {
    const shares: number[] = [];
    expect(runStudy(squares, { onProgress: (share) => shares.push(share) })).toBe('0 1 4 9 16');
    expect(shares).toEqual([0.2, 0.4, 0.6, 0.8, 1]);
  });

  test('keeps what is done when it is stopped', () => {
    const signal = { aborted: false };
    const stopAfterTwo = (share: number): void => void (signal.aborted = share >= 0.4);
    expect(runStudy(squares, { signal, onProgress: stopAfterTwo })).toBe('0 1 - - -');
    expect(runStudy(squares, { signal: { aborted: true } })).toBe('- - - - -');
  });

  test('takes no job that was stopped on its way for a result', () => {
    const signal = { aborted: false };
    const stopsItself: Study<number, string> = {
      ...squares,
      run: (index) => {
        signal.aborted = index === 3;
        return squares.run(index, signal);
      },
    };
    expect(runStudy(stopsItself, { signal })).toBe('0 1 4 - -');
  });
});

describe('runStudyInSteps(study, pause)', () => {
  test('gives the same, and can be stopped by an AbortSignal between jobs', async () => {
    const pause = (): Promise<void> => new Promise((resolve) => setImmediate(resolve));
    expect(await runStudyInSteps(squares, pause)).toBe('0 1 4 9 16');
    const stop = new AbortController();
    let pauses = 0;
    const stopping = async (): Promise<void> => {
      if (++pauses === 3) setImmediate(() => stop.abort());
      await pause();
    };
    expect(await runStudyInSteps(squares, stopping, { signal: stop.signal })).toBe('0 1 4 - -');
  });
});

describe('jobRandom(seed, index)', () => {
  const first = (seed: number, index: number): number => jobRandom(seed, index).next();

  test('follows from seed and job alone', () => {
    const stream = jobRandom(7, 3);
    const again = jobRandom(7, 3);
    jobRandom(7, 2).next();
    expect([stream.next(), stream.next()]).toEqual([again.next(), again.next()]);
  });

  test('gives every job of a study, and every seed, a stream of its own', () => {
    const jobs = Array.from({ length: 2000 }, (_, index) => first(1, index));
    const seeds = Array.from({ length: 2000 }, (_, seed) => first(seed, 1));
    expect(new Set(jobs).size).toBe(2000);
    expect(new Set(seeds).size).toBe(2000);
    // Job k of seed s is not job k + 1 of seed s - 1, as it would be if the two were simply added.
    expect(first(2, 5)).not.toBe(first(1, 6));
  });

  test('first numbers of many jobs are spread evenly', () => {
    const jobs = Array.from({ length: 4000 }, (_, index) => first(1, index));
    const mean = jobs.reduce((sum, number) => sum + number, 0) / jobs.length;
    // Mean of 4000 uniform numbers: 0.5 with a standard deviation of 0.2887 / sqrt(4000) = 0.0046 (closed form); 5 of them.
    expect(Math.abs(mean - 0.5)).toBeLessThan(0.023);
  });

  test('refuses what is no 32-bit whole number', () => {
    expect(() => jobRandom(1.5, 0)).toThrow('jobRandom: seed must be a whole number from 0 to 4294967295; got 1.5.');
    expect(() => jobRandom(1, -1)).toThrow('jobRandom: index must be');
  });
});
