import type { Situation } from './situation.ts';

/**
 * How far the parts of a modal state are from where they aim. A part that grows and is driven is nowhere for ever, though
 * rounding may say so: it is at least a rounding away, and what turns back for that comes again, further on.
 */
export function readAmplitudes(situation: Situation, z: Float64Array, amplitudes: Float64Array): void {
  const { rates, rest, drift, grows, stateCount: n } = situation;
  for (let k = 0; k < n; k++) amplitudes[k] = z[k]! - rest[k]!;
  if (!grows) return;
  for (let k = 0; k < n && rates[k]! < 0; k++) {
    if (amplitudes[k] === 0 && drift[k] !== 0) amplitudes[k] = Number.EPSILON * rest[k]!;
  }
}
