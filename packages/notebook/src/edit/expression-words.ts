/** What a text is written in; each has its own words. */
export type ExpressionLanguage = 'expression' | 'note';

/** A stretch of a text that is shown in its own way. `start` and `end` count characters from 0, the end not included. */
export interface MarkedWord {
  readonly start: number;
  readonly end: number;
  /** `name` means something on this page; `number` is a number with its unit. */
  readonly kind: 'name' | 'number';
}

/**
 * A number with its unit, or a word. Units have letters of their own and are never long; what stands behind a number and
 * may be a unit is one.
 */
const PIECE =
  /(?<number>(?<![\w.])(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?(?:[ \u00a0\u2009\u202f]?(?:%|[A-Za-z\u00b5\u03bc\u03a9\u2126][\w\u00b5\u03bc\u03a9\u2126]{0,3}(?![\w.])))?)|[A-Za-z_]\w*(?:\.[A-Za-z_]\w*)*/g;
/** The target of a link into the page. */
const TARGET = /(?<=\]\(#)[\w.]{1,120}/g;
/** Longer texts are shown plain: nobody reads them, and marking takes time (characters). */
const LONGEST = 20_000;

/**
 * The words of a text that mean something: names that are known, and numbers with their units. In a note only the
 * targets of links do.
 */
export function markedWords(text: string, names: ReadonlySet<string>, language: ExpressionLanguage): MarkedWord[] {
  if (text.length > LONGEST) return [];
  const pieces = text.matchAll(language === 'note' ? TARGET : PIECE);
  return [...pieces].flatMap((piece): MarkedWord[] => {
    const [word] = piece;
    const place = { start: piece.index, end: piece.index + word.length };
    if (piece.groups?.['number'] !== undefined) return [{ ...place, kind: 'number' }];
    return isKnown(word, names) ? [{ ...place, kind: 'name' }] : [];
  });
}

/** Whether a word is known, or something inside a known one: `counter.R1.tolerance` where `counter.R1` is. */
function isKnown(word: string, names: ReadonlySet<string>): boolean {
  const steps = word.split('.');
  return steps.some((_, index) => names.has(steps.slice(0, index + 1).join('.')));
}
