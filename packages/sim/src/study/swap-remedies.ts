import { isInside } from './remark.ts';
import type { SwapFinding, SwapsPlan } from './swaps.ts';
import { spokenName } from '../quantity/index.ts';

/**
 * For combinations in which a part goes beyond a limit in the run: what else the kit offers for one place that keeps every
 * part inside its ratings, in a sentence; by the position of the combination. Those without are left out.
 */
export function remedyAmong(
  { places }: Pick<SwapsPlan, 'places'>,
  findings: readonly SwapFinding[],
): Map<number, string> {
  const safe = new Set(
    findings.flatMap(({ index, remarks, failed }) => (failed === null && isInside(remarks) ? [index] : [])),
  );
  const strides = places.map((_, place) =>
    places.slice(place + 1).reduce((product, { choices }) => product * choices.length, 1),
  );
  const remedies = new Map<number, string>();
  for (const { index, choices, remarks } of findings) {
    if (!remarks.some(({ what }) => what === 'over-limit' || what === 'supply-low')) continue;
    for (const [place, { name, choices: offered }] of places.entries()) {
      const now = choices[place] ?? 0;
      const first = index - now * (strides[place] ?? 1);
      const better = offered.findIndex((_, other) => safe.has(first + other * (strides[place] ?? 1)));
      if (better < 0) continue;
      remedies.set(index, `${spokenName(name)} of ${offered[better] ?? ''} in its place would prevent it.`);
      break;
    }
  }
  return remedies;
}
