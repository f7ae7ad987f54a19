import type { Part } from '../circuit/description.ts';
import type { ContactWatch } from '../trace/contact-observer.ts';

/** Kinds that a hand opens and closes. */
const BY_HAND: ReadonlySet<string> = new Set(['button', 'switch', 'jumper', 'finger']);

/**
 * The contacts of a part by name, the one that is meant where only the part is named first. A part that a hand works has
 * one, called as the part, and a finger is closed while it touches. A relay has those of its contact that are joined:
 * `K1.normallyOpen` and `K1.normallyClosed`, or `K1` for the first of them.
 */
export function contactsOf({ name, kind, nets, values }: Part): ReadonlyMap<string, ContactWatch> {
  if (BY_HAND.has(kind)) return new Map([[name, { part: name, by: 'hand', closed: values['closed'] === true }]]);
  if (kind !== 'relay') return new Map();
  const { normallyOpen, normallyClosed } = nets;
  const make: ContactWatch = { part: name, by: 'pulled', closed: false };
  const rest: ContactWatch = { part: name, by: 'dropped', closed: true };
  return new Map([
    ...(normallyOpen === undefined && normallyClosed === undefined
      ? []
      : [[name, normallyOpen === undefined ? rest : make] as const]),
    ...(normallyOpen === undefined ? [] : [[`${name}.normallyOpen`, make] as const]),
    ...(normallyClosed === undefined ? [] : [[`${name}.normallyClosed`, rest] as const]),
  ]);
}
