import { NEARLY_SAME, SAME_INSTANT } from './ending-search.ts';
import type { StepLimits } from './event-counter.ts';
import { NO_GUARD, type Outlook } from './outlook.ts';
import { NEARLY_STILL } from './powers.ts';
import type { Situation } from './situation.ts';
import type { Stepper } from './stepper.ts';

/**
 * A step from a situation whose outlook is known: no guard is looked at, and what is worked out is the same, bit for bit, as
 * by looking. One serves one run. It is written out in one piece, with one place that goes over to what follows, so that the
 * compiler can take all of it into one: what a step takes is handing numbers on, not arithmetic.
 */
export class ForeseenStep {
  constructor(private readonly stepper: Stepper) {}

  /** As `Stepper.step`, for a state that the outlook covers. */
  take(situation: Situation, outlook: Outlook, until: number, limits: StepLimits): boolean {
    const { stepper } = this;
    const { agenda, check, amplitudes, z } = stepper;
    const { toNext } = agenda;
    const toEnd = until - stepper.time - stepper.timeLow;
    if (toEnd < 0) return false;
    const { guard, atOnce, rest, rate } = outlook;
    // What is due by the clock comes first; and a branch that has just moved goes back for good reasons only.
    if (toNext <= 0 || (atOnce && outlook.moves && check.back.count > 0)) {
      return stepper.stepByLooking(situation, until, limits);
    }
    const amplitude = z[0]! - rest;
    amplitudes[0] = amplitude;
    let ending = guard;
    if (atOnce) {
      stepper.elapsed = 0;
      if (!stepper.count(false, limits, until)) return false;
    } else {
      let length = toNext < toEnd ? toNext : toEnd;
      let power = 0;
      ending = NO_GUARD;
      if (guard !== NO_GUARD) {
        const moving = outlook.row * amplitude;
        power = -outlook.level / moving;
        const time = -Math.log(power) / rate;
        if (time <= length * (1 - SAME_INSTANT)) {
          // Whether a guard and a known time are one instant is for a closer look.
          if (length - time < NEARLY_SAME * length) return stepper.stepByLooking(situation, until, limits);
          length = time;
          ending = guard;
          check.know(guard, moving);
          situation.roots[guard] = time;
          stepper.finder.powers.know(power, 0, time, situation.rates);
        }
      }
      stepper.elapsed = length;
      if (ending === NO_GUARD) {
        if (toNext > toEnd) {
          stepper.show();
          return false;
        }
        power = Math.exp(-rate * length);
      }
      if (guard !== NO_GUARD) situation.likely = ending;
      if (!stepper.count(length > Number.EPSILON * stepper.time, limits, until)) return false;
      stepper.show();
      stepper.shown = 0;
      z[0] = power > NEARLY_STILL ? z[0]! + amplitude * Math.expm1(-rate * length) : rest + amplitude * power;
      check.back.clear();
      agenda.pass(length);
      stepper.readTime();
    }
    if (ending === NO_GUARD) stepper.followAgenda(situation);
    else stepper.follow(stepper.successionOf(situation, ending), ending);
    return stepper.failure === undefined;
  }
}
