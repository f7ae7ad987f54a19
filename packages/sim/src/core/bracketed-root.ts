/**
 * The root of a continuous function inside a bracket whose ends differ in sign, to neighbouring doubles where the
 * function allows it. Regula falsi with the Illinois modification (Dowell and Jarratt 1971), with a bisection
 * in every third round so that the bracket always shrinks. Returns the end of the last bracket on the side of `toValue`: an event is committed on its far
 * side.
 */
export function bracketedRoot(
  value: (at: number) => number,
  from: number,
  fromValue: number,
  to: number,
  toValue: number,
): number {
  let a = from;
  let fa = fromValue;
  let b = to;
  let fb = toValue;
  const farSign = Math.sign(toValue);
  let kept = 0;
  for (let round = 0; round < 200; round++) {
    const width = b - a;
    const middle = a + width / 2;
    if (!(middle > a && middle < b)) break;
    let next = b - (fb * width) / (fb - fa);
    const bisect = round % 3 === 2 || !(next > a && next < b);
    if (bisect) next = middle;
    const fn = value(next);
    if (fn === 0) return next;
    if (Math.sign(fn) === farSign) {
      b = next;
      fb = fn;
      if (kept === 1) fa /= 2;
      kept = 1;
    } else {
      a = next;
      fa = fn;
      if (kept === -1) fb /= 2;
      kept = -1;
    }
  }
  return b;
}
