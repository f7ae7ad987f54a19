import { documentsNamed, familyChanges, timerFamilies, type TimerFamily } from '../document/index.ts';
import { alignColumns, paragraph } from './columns.ts';
import type { Output } from './output.ts';
import { SEE_HELP } from './usage.ts';

/** Prints what changes when one family of timers takes the place of another. @returns the exit status. */
export function familiesCommand(families: readonly string[], output: Output): number {
  const [from, to] = families;
  if (families.length !== 2 || !isFamily(from) || !isFamily(to)) {
    const got = families.length === 0 ? 'nothing' : families.map((family) => JSON.stringify(family)).join(', ');
    output.message(`families: two of ${timerFamilies.join(', ')} must be given, FROM and TO; got ${got}. ${SEE_HELP}`);
    return 2;
  }
  const changes = familyChanges(from, to);
  output.out(`From ${from} to ${to}: ${changes.length === 0 ? 'nothing changes' : 'what changes'}.\n`);
  for (const { parameter, sentence, toSource } of changes) {
    for (const line of alignColumns([[parameter, `${sentence} (${toSource})`]], '  ')) output.out(`${line}\n`);
  }
  const documents = documentsNamed(changes.map(({ toSource }) => toSource));
  if (documents.length > 0) output.out('\nDocuments:\n');
  for (const line of documents.flatMap((each) => paragraph(each, '  '))) output.out(`${line}\n`);
  return 0;
}

function isFamily(text: string | undefined): text is TimerFamily {
  return (timerFamilies as readonly (string | undefined)[]).includes(text);
}
