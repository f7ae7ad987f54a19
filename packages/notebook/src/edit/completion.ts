/** A word being typed, and what it may become. */
export interface Completion {
  /** Where the word begins and ends in the text. */
  readonly start: number;
  readonly end: number;
  /** The names it may become, best first. */
  readonly names: readonly string[];
}

/** Names that are offered at once. */
const OFFERED_MOST = 8;

/** A name that ends at the caret. */
const NAME = /[A-Za-z_][\w.[\]]*$/;
/** The same where numbers of cells may be named as well: `#kits.parts["G1.wave.period"]`. */
const KNOB = /#[\w.[\]"]*$|[A-Za-z_][\w.[\]]*$/;

/**
 * The names that the word at the caret may become: those that begin with it, then those that contain it. A word that
 * is complete, or that nothing fits, is offered nothing.
 *
 * @param asked whether somebody asked for names: then all are offered where no word is.
 */
export function complete(text: string, caret: number, names: readonly string[], asked = false): Completion | undefined {
  const form = names.some((name) => name.startsWith('#')) ? KNOB : NAME;
  const start = caret - (form.exec(text.slice(0, caret))?.[0].length ?? 0);
  const end = caret + (/^[\w.[\]]*/.exec(text.slice(caret))?.[0].length ?? 0);
  const word = text.slice(start, caret).toLowerCase();
  if (word === '') return asked && names.length > 0 ? { start, end: caret, names } : undefined;
  const begins = names.filter((name) => name.toLowerCase().startsWith(word));
  const contains = names.filter((name) => !begins.includes(name) && name.toLowerCase().includes(word));
  const found = [...new Set([...begins, ...contains])].slice(0, OFFERED_MOST);
  return found.length === 0 || (found.length === 1 && found[0] === text.slice(start, end))
    ? undefined
    : { start, end, names: found };
}

/**
 * Like {@link complete} for a note: names are offered where the target of a link into the page is written.
 *
 * @param text what stands before the caret.
 */
export function completeLink(text: string, names: readonly string[]): Completion | undefined {
  const target = /\]\(#([\w.]*)$/.exec(text)?.[1];
  return target === undefined ? undefined : complete(text, text.length, names, target === '');
}
