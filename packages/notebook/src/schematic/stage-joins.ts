import { listedText } from '@two-thirds/sim/quantity';
import { netsOf, type Stage } from './stages.ts';

/**
 * Where the nets of each stage go on in the drawings of the others, a sentence for each net: `handed goes on at trigger
 * of U2 and R3.` Supply nets stand in every drawing and are left out.
 */
export function stageJoins(stages: readonly Stage[], rails: ReadonlySet<string>): readonly (readonly string[])[] {
  const ends = stages.map(endsOf);
  return ends.map((own, index) =>
    [...own.keys()].flatMap((net) => {
      const others = ends.filter((_, other) => other !== index).flatMap((each) => each.get(net) ?? []);
      return rails.has(net) || others.length === 0 ? [] : [`${net} goes on at ${listedText(others)}.`];
    }),
  );
}

/** What lies on each net of a stage, in words. */
function endsOf({ timer, shapes }: Stage): ReadonlyMap<string, readonly string[]> {
  const found = new Map<string, string[]>();
  const add = (net: string, words: string): void => {
    found.set(net, [...(found.get(net) ?? []), words]);
  };
  for (const [pin, net] of Object.entries(timer?.pins ?? {})) add(net, `${pin} of ${timer?.name ?? ''}`);
  for (const shape of shapes) for (const net of netsOf(shape)) add(net, shape.label ?? shape.name);
  return found;
}
