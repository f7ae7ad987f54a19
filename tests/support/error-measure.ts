/**
 * The one measure by which numbers of the engine are judged: |actual - reference| / |scale| / condition, the largest of a
 * list. Anything that is not a finite number, or a list of another length, is an endless error, so it never passes.
 *
 * @param options `scale`: what the error is a share of, |reference| if not given (for voltages: the supply).
 *   `condition`: by how much the question itself magnifies the rounding of its own numbers; 1 if not given.
 */
export function errorOf(
  actual: number | readonly number[],
  reference: number | readonly number[],
  options: { readonly scale?: number; readonly condition?: number } = {},
): number {
  if (typeof actual !== 'number' || typeof reference !== 'number') {
    const [list, wanted] = [[actual].flat(), [reference].flat()];
    if (list.length !== wanted.length || list.length === 0) return Number.POSITIVE_INFINITY;
    return Math.max(...list.map((value, i) => errorOf(value, wanted[i]!, options)));
  }
  const { scale = reference, condition = 1 } = options;
  const error = Math.abs(actual - reference) / Math.abs(scale) / condition;
  if (actual === reference && scale === 0) return 0;
  return Number.isNaN(error) ? Number.POSITIVE_INFINITY : error;
}
