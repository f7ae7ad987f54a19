import { exactText } from './circuit-view.ts';
import type { Circuit, Part } from './description.ts';

/** What holds for every board with relays or solenoids, in whole sentences. */
export function windingCautions({ parts }: Circuit): string[] {
  const contacts = parts.filter(({ kind, nets }) => kind === 'relay' && nets.common !== undefined);
  const timed = parts.filter(
    ({ kind, values }) => kind === 'solenoid' || (kind === 'relay' && values.longest !== undefined),
  );
  return [
    ...(contacts.length === 0
      ? []
      : [
          `Contacts of relays switch nothing but isolated extra-low voltage here, never mains: ${contacts.map(({ name }) => name).join(', ')}.`,
        ]),
    ...(timed.length === 0
      ? []
      : [`What a winding moves gets hot when it stays on. Longest time on: ${timed.map(longestText).join(', ')}.`]),
  ];
}

function longestText({ name, values }: Part): string {
  const longest = values.longest as number | undefined;
  return `${name} ${longest === undefined ? 'not stated' : exactText(longest, 's')}`;
}
