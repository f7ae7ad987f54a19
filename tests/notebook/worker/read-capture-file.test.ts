import { readCaptureFile } from '#notebook/worker/read-capture-file.ts';
import { describe, expect, test } from 'vitest';

const request = { level: 6, hysteresis: 0.6, known: ['out'] };

/** A square wave of 10 V and 2 s, sampled every millisecond. */
function wave(rows: number): string {
  const lines = Array.from({ length: rows }, (_, index) => `${index / 1000},${index % 2000 < 1000 ? 0 : 10}`);
  return `t_s,out_V\n${lines.join('\n')}\n`;
}

describe('readCaptureFile', () => {
  test('reads a long file in chunks, thinned, with every edge, and tells how far it is', async () => {
    const rows = 200_000;
    const shares: number[] = [];
    const outcome = await readCaptureFile(new Blob([wave(rows)]), request, (share) => shares.push(share));
    if (!outcome.ok) throw new Error('the file must be read');
    expect(outcome.capture.rows).toBe(rows);
    expect(outcome.capture.times.length).toBeLessThanOrEqual(4096);
    // 200 s of 2 s each have a rise each and a fall between them: 199.
    expect(outcome.capture.channels[0]?.edges).toHaveLength(199);
    expect(shares.at(-1)).toBe(1);
  });

  test('reads UTF-16', async () => {
    const text = wave(3000);
    const bytes = new Uint16Array([0xfeff, ...Array.from(text, (letter) => letter.charCodeAt(0))]);
    const outcome = await readCaptureFile(new Blob([bytes]), request, () => undefined);
    expect(outcome.ok && outcome.capture.rows).toBe(3000);
  });

  test('does not read a file to its end whose columns cannot be told', async () => {
    let isRead = false;
    const text = wave(50_000).replace('out_V', 'CH1');
    const outcome = await readCaptureFile(new Blob([text]), request, () => (isRead = true));
    expect(outcome.ok || outcome.fault.field).toBe('columns');
    expect(isRead).toBe(false);
  });

  test('says so where a file cannot be read', async () => {
    const broken = Object.assign(new Blob(['x']), {
      slice: () => ({ arrayBuffer: () => Promise.reject(new Error()) }),
    });
    const outcome = await readCaptureFile(broken, request, () => undefined);
    expect(outcome.ok || outcome.fault).toMatchObject({ field: 'data', advice: 'Choose it once more.' });
  });
});
