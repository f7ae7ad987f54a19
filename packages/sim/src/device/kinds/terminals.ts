import type { Terminal } from '../../circuit/description.ts';

/** The ends `a` and `b` of a part without direction, or with the direction from `a` to `b`. */
export const endsAAndB: readonly Terminal[] = [
  { name: 'a', required: true },
  { name: 'b', required: true },
];

/** The poles of a part that makes a voltage: that of `plus` above `minus`. */
export const polesPlusAndMinus: readonly Terminal[] = [
  { name: 'plus', required: true },
  { name: 'minus', required: true },
];
