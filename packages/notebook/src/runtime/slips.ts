/** How near a factor must come to that of a slip (share): real timers and rounded rules lie 1 or 2 % off the ideal. */
const NEAR = 0.025;

/** Factors between a guess and what it should have been that tell how it came about; common practice, no source. */
const slips: readonly { readonly factor: number; readonly words: string }[] = [
  ...[2, 3, 6, 9].map((decades) => ({
    factor: 10 ** decades,
    words: decades === 2 ? 'two decades, as where the ring or figure for the zeros is misread' : prefixSlip(decades),
  })),
  { factor: 10, words: 'one decade, as where the ring or figure for the zeros is misread' },
  {
    factor: Math.log(3) / Math.log(2),
    words: 'what lies between 1.1 R C, the rule for one interval, and 0.693 R C, the rule for half an oscillation',
  },
  {
    factor: 2,
    words: 'as where the whole is taken for one of two halves, or a resistor that counts twice is counted once',
  },
  {
    factor: 1 / Math.log(2) ** 2,
    words: 'what lies between 0.693 and 1.44 = 1 / 0.693, of which one belongs to times and the other to frequencies',
  },
];

function prefixSlip(decades: number): string {
  return `${decades} decades, as where one prefix of a unit is taken for another: nF for µF, Ω for kΩ`;
}

/**
 * What a wrong answer suggests about the way to it, from the factor between it and the computed value, as a sentence;
 * `undefined` where it suggests nothing.
 *
 * @param isPlain whether the answer is a plain number, and may be a count.
 */
export function slipWords(typed: number, computed: number, isPlain: boolean): string | undefined {
  if (isPlain && Number.isInteger(typed) && Math.abs(typed - computed) === 1) {
    return 'One off is the usual slip in counting: does the pulse that starts an interval count as well?';
  }
  if (typed === 0 || computed === 0) return undefined;
  if (typed === -computed) return 'The size is right, the sign is not.';
  const factor = Math.abs(typed / computed);
  const size = Math.max(factor, 1 / factor);
  const slip = slips.find((each) => Math.abs(size / each.factor - 1) <= NEAR);
  if (slip === undefined) return undefined;
  const shown = Number(slip.factor.toPrecision(3)).toLocaleString('en', { useGrouping: false });
  return `Your answer is about ${shown} times too ${factor > 1 ? 'high' : 'low'}: ${slip.words}.`;
}
