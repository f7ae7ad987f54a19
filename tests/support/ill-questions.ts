import type { FilePart } from './run-board.ts';
import type { RandomCircuit } from './random-circuit.ts';
import type { NodalRunResult } from './nodal/run.ts';
import { byModel, difference } from './two-tellings.ts';

/**
 * Questions that are ill: where the model, asked a little otherwise, tells what
 * the engine tells, or disagrees with itself by then, by more than a hundred times the tolerance or about what happens at
 * all. Asked otherwise means that its capacitors begin some of these higher (V), each by another amount, and that its
 * comparators may have to be over their limits by the margin, a hundredfold of what the model tells apart. Grazed limits,
 * limits met exactly from the start and chaotic circuits are found that way. So are capacitors that have died away where
 * they are compared with 0 V, once THRESHOLD may be short of its limit by as much, and timers both of whose comparators meet
 * their limits at one instant, once THRESHOLD has to be over it by as much. Two timers that act at one instant, because the
 * same delays add up for both, have no order but for rounding: such a tie is one that another order tells otherwise, with
 * delays, or all waiting times, that differ by a share far below the tolerance. And transistors that drive each other may
 * have several consistent states at one instant, as a flip-flop has (decision 12): the model finds the others when it moves
 * branches in another order.
 */
const MARGIN = 1e-8;
const LIFTS = [MARGIN, 4 * MARGIN, -4 * MARGIN];
const STAGGERS = [1e-9, -1e-9];
/** Where other orders are drawn from. */
const SEEDS = [11, 222, 3333, 44444, 5, 66, 777];
/** Times the tolerance that the model may disagree with itself. */
const ILL = 100;
/** In circuits that swing much faster than they run, the hundredfold hides much: what the model tells apart, as it is (V). */
const TINY = [1e-10, -1e-10];

/** The same parts, the delay of each timer changed by another share of it. */
function staggered(parts: readonly FilePart[], share: number): FilePart[] {
  let timers = 0;
  return parts.map((part) => {
    if (part.kind !== 'timer') return part;
    const changes = part['with'] as { readonly delay: number };
    timers++;
    return { ...part, with: { ...changes, delay: changes.delay * (1 + timers * share) } };
  });
}

/**
 * Whether the question what becomes of a circuit is ill from some time on (s), so that two tellings may differ from there.
 *
 * @param engine what the engine tells.
 * @param model what the model tells.
 * @param share the tolerance to which times are compared, as a share of the run.
 */
export function isIll(
  { parts, until }: RandomCircuit,
  engine: NodalRunResult,
  model: NodalRunResult,
  from: number,
  share: number,
): boolean {
  const others = [
    ...SEEDS.map((seed) => () => byModel(parts, until, { seed })),
    ...LIFTS.map((lift) => () => byModel(parts, until, { lift, margin: MARGIN })),
    ...LIFTS.map((lift) => () => byModel(parts, until, { lift })),
    () => byModel(parts, until, { early: MARGIN }),
    () => byModel(parts, until, { early: -MARGIN }),
    ...STAGGERS.map((stagger) => () => byModel(staggered(parts, stagger), until)),
    ...STAGGERS.map((jitter) => () => byModel(parts, until, { jitter })),
  ];
  const tellsOtherwise = (told: NodalRunResult, tolerance: number): boolean => {
    if (difference(engine, told, share * until) === undefined) return true;
    const ill = difference(model, told, tolerance);
    return ill !== undefined && ill.time <= from + tolerance;
  };
  return (
    others.some((tell) => tellsOtherwise(tell(), ILL * share * until)) ||
    TINY.some((lift) => tellsOtherwise(byModel(parts, until, { lift }), share * until))
  );
}
