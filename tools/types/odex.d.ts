/**
 * Types of the part of the ODE package `odex` that tests and benchmarks use. The package ships its TypeScript source,
 * which does not pass our strict checks; the tsconfig files point here instead.
 */
export class Solver {
  constructor(equations: number);
  denseOutput: boolean;
  absoluteTolerance: number;
  relativeTolerance: number;
  maxSteps: number;
  initialStepSize: number;
  maxStepSize: number;
  /** Integrates y' = f(x, y); the callback sees each step and stops the integration by answering false. */
  solve(
    derivative: (x: number, y: number[]) => number[],
    from: number,
    start: readonly number[],
    to: number,
    step?: (
      count: number,
      before: number,
      after: number,
      y: number[],
      dense: (index: number, x: number) => number,
    ) => boolean | undefined,
  ): { readonly y: number[]; readonly xEnd: number; readonly outcome: number };
}
