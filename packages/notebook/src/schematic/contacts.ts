import { readQuantity } from '@two-thirds/sim/quantity';
import { boardParts } from '../edit/board-values.ts';
import { isList, isRecord, type Json, type JsonRecord } from '../edit/json.ts';
import { linkName, linksOf } from '../edit/link-edits.ts';

/** A part that a hand opens and closes, and when the document plans it. */
export interface Contact {
  /** Its name; for a link between boards what {@link linkName} calls it. */
  readonly part: string;
  readonly kind: ContactKind;
  /** Whether it conducts while nobody touches it. */
  readonly closed: boolean;
  /** When it is in its other position (s), from the first instant up to the second. */
  readonly worked: readonly { readonly from: number; readonly until: number }[];
}

/** A contact that is drawn open or closed; a finger is closed while it touches its plate. */
type ContactKind = 'button' | 'switch' | 'jumper' | 'finger';

/** Contacts that conduct until somebody works them. */
const closedAtRest: Readonly<Record<ContactKind, boolean>> = {
  button: false,
  switch: false,
  jumper: true,
  finger: false,
};

/** The contacts of a board as the document has them now, links to other boards included. */
export function contactsOf(document: Json, board: string): Contact[] {
  const parts = boardParts(document, board).flatMap((part) => {
    const { name, kind } = part;
    return typeof name === 'string' && isContactKind(kind) ? [contact(name, kind, part)] : [];
  });
  const links = linksOf(document, board).map(({ index, data }) => contact(linkName(index), 'jumper', data));
  return [...parts, ...links];
}

/**
 * The contacts that conduct at a time (s); without a time, those that conduct while nobody touches them. A contact that is
 * worked is in its other position from the instant it is pressed up to the one at which it is let go.
 *
 * @param exact the parts that conduct then, bounces included, where that has been computed; links do not bounce.
 */
export function closedContacts(
  contacts: readonly Contact[],
  time?: number,
  exact?: readonly string[],
): ReadonlySet<string> {
  const isWorked = ({ worked }: Contact): boolean =>
    time !== undefined && worked.some(({ from, until }) => time >= from && time < until);
  const planned = contacts.filter((each) => each.closed !== isWorked(each)).map(({ part }) => part);
  return new Set(exact === undefined ? planned : [...exact, ...planned.filter((part) => part.includes(' '))]);
}

/** The contacts that conduct in a run by hand. @param worked the parts that are worked at present. */
export function closedByHand(
  presses: readonly { readonly part: string; readonly closed: boolean }[],
  worked: ReadonlySet<string>,
): ReadonlySet<string> {
  return new Set(presses.filter(({ part, closed }) => closed !== worked.has(part)).map(({ part }) => part));
}

function contact(part: string, kind: ContactKind, data: JsonRecord): Contact {
  const planned = data[kind === 'finger' ? 'touches' : 'presses'];
  const closed = data['closed'];
  return {
    part,
    kind,
    closed: typeof closed === 'boolean' ? closed : closedAtRest[kind],
    worked: (isList(planned) ? planned : []).flatMap((each) => {
      const from = isRecord(each) ? seconds(each['at']) : undefined;
      const length = isRecord(each) ? seconds(each['for']) : undefined;
      return from === undefined || length === undefined ? [] : [{ from, until: from + length }];
    }),
  };
}

/** A time as it is written; what cannot be read is no time, and complained of where it stands. */
function seconds(value: Json | undefined): number | undefined {
  const read = value === undefined ? undefined : readQuantity(value, 's');
  return read?.ok ? read.value : undefined;
}

function isContactKind(kind: Json | undefined): kind is ContactKind {
  return typeof kind === 'string' && Object.hasOwn(closedAtRest, kind);
}
