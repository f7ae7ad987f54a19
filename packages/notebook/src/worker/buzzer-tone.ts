import { MOST_CHANGES, type OutputSlice } from '../runtime/live-protocol.ts';

/** A stretch of time (s) for which a buzzer sounds. */
export interface SoundingSpan {
  readonly from: number;
  readonly until: number;
}

/**
 * What is heard of a buzzer in a slice of time: a tone of its frequency while it sounds, as an output that goes up and
 * down. Its halves are counted from time 0, so that slices fit together.
 *
 * @param name what the board calls it.
 * @param frequency Hz.
 * @param spans in the order of time, inside the slice.
 * @param from where the slice begins, and `until` where it ends (s).
 */
export function buzzerTone(
  name: string,
  frequency: number,
  spans: readonly SoundingSpan[],
  from: number,
  until: number,
): OutputSlice {
  const half = 1 / (2 * frequency);
  const isUp = (time: number): boolean => Math.floor(time / half) % 2 === 0;
  const changes: number[] = [];
  let cut = false;
  const high = spans[0]?.from === from && isUp(from);
  for (const span of spans) {
    if (span.from !== from && isUp(span.from)) changes.push(span.from);
    let next = Math.floor(span.from / half) + 1;
    for (; next * half < span.until && changes.length < MOST_CHANGES; next += 1) changes.push(next * half);
    cut ||= next * half < span.until;
    // It ends low, unless it sounds on.
    if (!cut && (next - 1) % 2 === 0 && span.until < until) changes.push(span.until);
  }
  return { timer: name, high, changes, cut };
}
