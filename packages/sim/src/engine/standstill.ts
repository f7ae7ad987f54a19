import type { GuardCheck } from './guard-check.ts';
import type { FailureCode } from './outcome.ts';
import type { Situation } from './situation.ts';

/** Why no time may pass in a doubtful situation; undefined where it may. Its guards have just been read. */
export function whyNoTimePasses(situation: Situation, check: GuardCheck): FailureCode | undefined {
  const { untold } = situation.mode;
  if (untold) return untold.reason === 'forks' ? 'grows' : untold.reason;
  if (situation.curves) return 'curves';
  return situation.grows && check.growsByRounding(situation) ? 'undecided' : undefined;
}
