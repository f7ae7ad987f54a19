import { Solver } from 'odex';

/** Numbers of the state: capacitor voltages, in the order that the equations give them. */
export type HandState = readonly number[];

/** A condition that ends a piece of the equations by becoming positive. */
export interface HandGuard<Discrete> {
  readonly label: string;
  readonly over: (state: HandState, time: number) => number;
  /** What holds afterwards; the state only where it jumps. */
  readonly go: (state: HandState, time: number) => { readonly discrete: Discrete; readonly state?: HandState };
}

/**
 * A circuit as somebody writes it down by hand: x' = derivative(discrete, x, t), where `discrete` says which switches are
 * closed and which latches are set, and guards say when that changes. At one instant guards fire in the order given.
 */
export interface HandEquations<Discrete> {
  readonly discrete: Discrete;
  readonly state: HandState;
  readonly derivative: (discrete: Discrete, state: HandState, time: number) => number[];
  readonly guards: (discrete: Discrete) => readonly HandGuard<Discrete>[];
}

/** A hand-written circuit after integration. */
export interface HandRun<Discrete> {
  readonly events: readonly { readonly label: string; readonly time: number }[];
  /** What holds at a time, after the events of that instant. */
  readonly at: (time: number) => { readonly discrete: Discrete; readonly state: HandState };
}

/**
 * Tolerance given to the ODE package, of each step: four decades below the 1e-8 that comparisons ask for, since the errors
 * of some hundred steps and of the restarts add up.
 */
const STEP_TOLERANCE = 1e-12;
/** Points of a step at which guards are looked at. */
const LOOKS = 16;
/** Halvings of a bracket: more than a double has bits. */
const HALVINGS = 60;
/** Events at one instant, and pieces of a run, far more than any of the circuits has. */
const MOST_AT_ONCE = 20;
const MOST_PIECES = 2000;
/**
 * What a condition must be over by (V or s) to hold at the start of a piece: the one opposite to that which has just
 * ended a piece stands on its limit to rounding, and must not answer it.
 */
const CLEARLY = 1e-10;

interface Piece<Discrete> {
  readonly discrete: Discrete;
  readonly state: HandState;
  readonly time: number;
}

/**
 * Integrates hand-written equations with a general-purpose ODE package (Gragg, Bulirsch and Stoer's extrapolation) from 0
 * to `until`. Every event is bisected on the package's dense output, its state integrated anew up to there, and the
 * integration restarted behind it.
 */
export function integrateByHand<Discrete>(equations: HandEquations<Discrete>, until: number): HandRun<Discrete> {
  const events: { label: string; time: number }[] = [];
  const pieces: Piece<Discrete>[] = [];
  let piece: Piece<Discrete> = settle(equations, { ...equations, time: 0 }, events);
  for (;;) {
    if (pieces.push(piece) > MOST_PIECES) throw new Error(`hand-written equations: too many pieces by ${piece.time} s`);
    const found = firstEvent(equations, piece, until);
    if (found === undefined) break;
    const { guard, time, state } = found;
    events.push({ label: guard.label, time });
    piece = settle(equations, { state, ...guard.go(state, time), time }, events);
  }
  return {
    events,
    at(time) {
      const holding = pieces.findLast((each) => each.time <= time)!;
      return { discrete: holding.discrete, state: stateAt(equations, holding, time) };
    },
  };
}

/** Fires what is over at the start of a piece already. */
function settle<Discrete>(
  equations: HandEquations<Discrete>,
  start: Piece<Discrete>,
  events: { label: string; time: number }[],
): Piece<Discrete> {
  let piece = start;
  for (let round = 0; round < MOST_AT_ONCE; round++) {
    const { discrete, state, time } = piece;
    const guard = equations.guards(discrete).find(({ over }) => over(state, time) > CLEARLY);
    if (guard === undefined) return piece;
    events.push({ label: guard.label, time });
    piece = { state, ...guard.go(state, time), time };
  }
  throw new Error(`hand-written equations: no end of events at ${start.time} s`);
}

function solverFor(size: number, span: number): Solver {
  const solver = new Solver(size);
  solver.absoluteTolerance = STEP_TOLERANCE;
  solver.relativeTolerance = STEP_TOLERANCE;
  solver.initialStepSize = span / 1e4;
  solver.maxSteps = 200_000;
  return solver;
}

function stateAt<Discrete>(equations: HandEquations<Discrete>, piece: Piece<Discrete>, time: number): HandState {
  const span = time - piece.time;
  if (span <= 0) return piece.state;
  const { y, outcome } = solverFor(piece.state.length, span).solve(
    (local, state) => equations.derivative(piece.discrete, state, piece.time + local),
    0,
    [...piece.state],
    span,
  );
  if (outcome !== 0) throw new Error(`hand-written equations: the ODE package gave up before ${time} s`);
  return y;
}

function firstEvent<Discrete>(
  equations: HandEquations<Discrete>,
  piece: Piece<Discrete>,
  until: number,
): { guard: HandGuard<Discrete>; time: number; state: HandState } | undefined {
  const { discrete, state: start, time: from } = piece;
  const guards = equations.guards(discrete);
  let found: { guard: HandGuard<Discrete>; local: number } | undefined;
  const solver = solverFor(start.length, until - from);
  solver.denseOutput = true;
  solver.solve(
    (local, state) => equations.derivative(discrete, state, from + local),
    0,
    [...start],
    until - from,
    (_, before, after, _state, dense) => {
      if (before === after) return undefined;
      const value = (guard: HandGuard<Discrete>, local: number): number =>
        guard.over(
          start.map((_unused, i) => dense(i, local)),
          from + local,
        );
      for (let look = 1; look <= LOOKS && found === undefined; look++) {
        const high = before + ((after - before) * look) / LOOKS;
        const low = before + ((after - before) * (look - 1)) / LOOKS;
        for (const guard of guards) {
          if (!(value(guard, high) > 0)) continue;
          const local = bisect((at) => value(guard, at) > 0, low, high);
          if (found === undefined || local < found.local) found = { guard, local };
        }
      }
      return found === undefined ? undefined : false;
    },
  );
  if (found === undefined) return undefined;
  return { guard: found.guard, ...polished(equations, piece, found.guard, from + found.local) };
}

/** The last point of the bracket at which the condition does not hold yet, to the last bit. */
function bisect(holds: (at: number) => boolean, from: number, to: number): number {
  let low = from;
  let high = to;
  for (let round = 0; round < HALVINGS; round++) {
    const middle = low + (high - low) / 2;
    if (holds(middle)) high = middle;
    else low = middle;
  }
  return high;
}

/**
 * One Newton step from a bisected time on a state that was integrated up to there: dense output is a few digits less
 * exact than the steps themselves.
 */
function polished<Discrete>(
  equations: HandEquations<Discrete>,
  piece: Piece<Discrete>,
  guard: HandGuard<Discrete>,
  time: number,
): { time: number; state: HandState } {
  const state = stateAt(equations, piece, time);
  const velocity = equations.derivative(piece.discrete, state, time);
  const step = 1e-4 * (time - piece.time);
  const moved = (by: number): HandState => state.map((value, i) => value + by * velocity[i]!);
  const value = guard.over(state, time);
  const rise = (guard.over(moved(step), time + step) - value) / step;
  // A longer step would come from a limit that is grazed, where no straight line holds.
  const by = rise > 0 && Math.abs(value / rise) < 1e-4 * step ? -value / rise : 0;
  return { time: time + by, state: moved(by) };
}
