import { cholesky, type Matrix, multiply, solveLower, solveLowerTransposed, transpose, zeros } from './dense.ts';

/** A problem of least squares. */
export interface LeastSquares {
  readonly start: Float64Array;
  /**
   * The residuals, each divided by its uncertainty, always as many; undefined where the parameters make no model (such a
   * step is not taken) or once the work is stopped.
   */
  readonly residuals: (parameters: Float64Array) => Float64Array | undefined;
  /** For each parameter, half the distance over which derivatives are taken. */
  readonly differences: readonly number[];
  /** Longest change of each parameter in one step. */
  readonly longest: readonly number[];
  /** Steps taken at most; 60 if not given. */
  readonly mostSteps?: number;
  /** Looked at before every evaluation; true ends the work. */
  readonly stopped?: () => boolean;
}

/** Where the sum of squares is least, as far as it was found. */
export interface LeastSquaresResult {
  readonly parameters: Float64Array;
  readonly residuals: Float64Array;
  /** Computes the derivatives of the residuals (rows) by the parameters (columns) there; undefined when stopped. */
  readonly jacobian: () => Matrix | undefined;
  /** Sum of the squared residuals. */
  readonly cost: number;
  /** Whether no step made it noticeably smaller; otherwise the steps ran out. */
  readonly converged: boolean;
}

const STEPS = 60;
const MOST_TRIALS = 20;
const FIRST_DAMPING = 1e-3;
const DAMPING_UP = 8;
const DAMPING_DOWN = 5;
/** A step that lowers the sum by less than this share of it ends the search. */
const NOTICEABLE = 1e-6;
/** Parameters without any effect still get this share of the largest curvature, so that the step stays defined. */
const LEAST_CURVATURE = 1e-12;

/**
 * Minimises a sum of squares by steps of Levenberg and Marquardt (D. W. Marquardt, J. Soc. Indust. Appl. Math. 11 (1963)
 * 431, from memory): Gauss-Newton steps whose normal equations are damped in proportion to their diagonal, less after a
 * step that helped and more after one that did not.
 *
 * @returns undefined when it was stopped, or when the start makes no model.
 */
export function leastSquares(problem: LeastSquares): LeastSquaresResult | undefined {
  const { start, residuals: residualsAt, longest, mostSteps = STEPS, stopped = () => false } = problem;
  let parameters: Float64Array = start.slice();
  let residuals = residualsAt(parameters);
  if (residuals === undefined) return undefined;
  let cost = squareSum(residuals);
  let jacobian = jacobianAt(problem, parameters, residuals, 'forward');
  let damping = FIRST_DAMPING;
  let converged = false;
  for (let step = 0; step < mostSteps && !converged; step++) {
    if (jacobian === undefined) return undefined;
    let taken: { parameters: Float64Array; residuals: Float64Array; cost: number } | undefined;
    for (let trial = 0; trial < MOST_TRIALS && taken === undefined; trial++) {
      const next = stepped(parameters, dampedStep(jacobian, residuals, damping), longest);
      const found = stopped() ? undefined : residualsAt(next);
      if (stopped()) return undefined;
      const nextCost = found === undefined ? Infinity : squareSum(found);
      if (found !== undefined && nextCost <= cost) taken = { parameters: next, residuals: found, cost: nextCost };
      else damping *= DAMPING_UP;
    }
    // No direction leads down any more: as good as it gets in numbers of this precision.
    if (taken === undefined) converged = true;
    else {
      converged = cost - taken.cost <= NOTICEABLE * cost;
      ({ parameters, residuals, cost } = taken);
      damping /= DAMPING_DOWN;
      if (!converged) jacobian = jacobianAt(problem, parameters, residuals, 'forward');
    }
  }
  const [at, there] = [parameters, residuals];
  return {
    parameters,
    residuals,
    jacobian: () => jacobianAt(problem, at, there, 'central'),
    cost,
    converged,
  };
}

/**
 * Derivatives by differences: to one side, which is enough to find the way, or to both, for what is reported. Where a side
 * makes no model, the other one has to do; where neither does, the derivative is taken as 0.
 */
function jacobianAt(
  problem: LeastSquares,
  at: Float64Array,
  here: Float64Array,
  by: 'forward' | 'central',
): Matrix | undefined {
  const { residuals, differences, stopped = () => false } = problem;
  const jacobian = zeros(here.length, at.length);
  const beside = (column: number, difference: number): Float64Array | undefined => {
    const moved = at.slice();
    moved[column]! += difference;
    return stopped() ? undefined : residuals(moved);
  };
  for (const [column, difference] of differences.entries()) {
    const above = beside(column, difference);
    const below = by === 'central' || above === undefined ? beside(column, -difference) : undefined;
    if (stopped()) return undefined;
    const width = (above === undefined ? 0 : difference) + (below === undefined ? 0 : difference);
    if (width === 0) continue;
    for (let row = 0; row < here.length; row++) {
      jacobian.data[row * at.length + column] = ((above ?? here)[row]! - (below ?? here)[row]!) / width;
    }
  }
  return jacobian;
}

function dampedStep(jacobian: Matrix, residuals: Float64Array, damping: number): Float64Array {
  const turned = transpose(jacobian);
  const normal = multiply(turned, jacobian);
  const size = normal.rows;
  let largest = 0;
  for (let i = 0; i < size; i++) largest = Math.max(largest, normal.data[i * size + i]!);
  const least = largest === 0 ? 1 : LEAST_CURVATURE * largest;
  for (let i = 0; i < size; i++) {
    const diagonal = Math.max(normal.data[i * size + i]!, least);
    normal.data[i * size + i] = diagonal * (1 + damping);
  }
  const slope = multiply(turned, { rows: residuals.length, columns: 1, data: residuals });
  const factor = cholesky(normal);
  return solveLowerTransposed(factor, solveLower(factor, slope)).data;
}

/** Takes a step downhill, shortened as a whole where any parameter would change too much. */
function stepped(from: Float64Array, step: Float64Array, longest: readonly number[]): Float64Array {
  let share = 1;
  for (const [index, most] of longest.entries()) share = Math.min(share, most / Math.abs(step[index]!));
  if (!Number.isFinite(share)) share = 0;
  return from.map((value, index) => value - share * step[index]!);
}

function squareSum(values: Float64Array): number {
  let sum = 0;
  for (const value of values) sum += value * value;
  return sum;
}
