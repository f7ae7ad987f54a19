import { Solver } from 'odex';

/** Equations of one mode, written by hand: y' and the guards that end it by becoming positive. */
export interface HandMode {
  readonly derivative: (y: readonly number[]) => number[];
  readonly guards: readonly { readonly value: (y: readonly number[]) => number; readonly to: number }[];
}

/** Runs hand-written modes with a general-purpose ODE package; returns the times of the first events. */
export function integrateModes(
  modes: readonly HandMode[],
  start: readonly number[],
  events: number,
  tolerance: number,
  reach: number,
): number[] {
  const times: number[] = [];
  let mode = modes[0]!;
  let y = [...start];
  let time = 0;
  while (times.length < events) {
    const solver = new Solver(y.length);
    solver.denseOutput = true;
    solver.absoluteTolerance = solver.relativeTolerance = tolerance;
    let found = -1;
    let next = 0;
    let at: number[] = [];
    const { derivative, guards } = mode;
    solver.solve(
      (_, state) => derivative(state),
      0,
      y,
      reach,
      (_, before, after, state, dense) => {
        if (before === after) return undefined;
        for (const guard of guards) {
          if (guard.value(state) < 0) continue;
          const stateAt = (x: number): number[] => state.map((_unused, index) => dense(index, x));
          let low = before;
          let high = after;
          for (let round = 0; round < 60; round++) {
            const middle = (low + high) / 2;
            if (guard.value(stateAt(middle)) < 0) low = middle;
            else high = middle;
          }
          if (found < 0 || high < found) {
            found = high;
            next = guard.to;
            at = stateAt(high);
          }
        }
        return found < 0 ? undefined : false;
      },
    );
    if (found < 0) throw new Error('integrateModes: a mode must end within its reach; it did not.');
    time += found;
    times.push(time);
    y = at;
    mode = modes[next]!;
  }
  return times;
}
