import type { SwapsResult, SwapsRow } from '@two-thirds/sim/document';

/** What a combination may be told for: a remark, no run at all, that it looks like another, or nothing. */
export type SwapsFlag = 'harm' | SwapsRemark | 'failed' | 'same' | 'fine';

/** Remarks other than those of damage. */
type SwapsRemark = Exclude<SwapsRow['flags'][number]['what'], 'unsafe' | 'over-limit'>;

/** Every flag in the order in which it is told, and its words. */
export const flagWords: Readonly<Record<SwapsFlag, string>> = {
  harm: 'must not be built',
  'supply-low': 'too little supply',
  failed: 'no run',
  'never-starts': 'never starts',
  'never-ends': 'never ends',
  unfinished: 'not over within the window',
  'too-fast': 'too fast to see',
  flashing: 'can set off fits',
  inaudible: 'cannot be heard',
  same: 'looks like another',
  fine: 'nothing to remark',
};

const order = Object.keys(flagWords) as readonly SwapsFlag[];

/** Everything that a combination is told for, the gravest first; never empty. */
export function flagsOf({ flags, failed, sameAs }: SwapsRow): readonly SwapsFlag[] {
  const found = new Set<SwapsFlag>(
    flags.map(({ what }) => (what === 'unsafe' || what === 'over-limit' ? 'harm' : what)),
  );
  if (failed !== null) found.add('failed');
  if (sameAs !== null) found.add('same');
  if (found.size === 0) found.add('fine');
  return order.filter((flag) => found.has(flag));
}

/** Whether a combination would damage a part. */
export function isHarmful(row: SwapsRow): boolean {
  return row.flags.some(({ what }) => what === 'unsafe' || what === 'over-limit');
}

/** How many combinations each flag is told of, those of none left out. */
export function flagCounts({ rows }: SwapsResult): readonly { readonly flag: SwapsFlag; readonly count: number }[] {
  const counts = new Map<SwapsFlag, number>();
  for (const row of rows) for (const flag of flagsOf(row)) counts.set(flag, (counts.get(flag) ?? 0) + 1);
  return order.flatMap((flag) => {
    const count = counts.get(flag);
    return count === undefined ? [] : [{ flag, count }];
  });
}
