import { quotedText } from '../core/found-text.ts';
import { nearestName } from '../core/nearest-name.ts';
import { formulaFunctions, type FormulaFault, type FormulaParser, type FormulaTree } from '../formula/index.ts';
import { readingForms, readingNames } from '../measure/reading-names.ts';

/** How the two sides of a claim stand to each other. */
export type ClaimRelation = '=' | '<=' | '>=' | '<' | '>';

/**
 * A claim taken apart: `width(out) = 1.1 * R1 * C1 within 1 %`.
 *
 *     claim    = side relation side [ "within" tolerance ]
 *     relation = "=" | "<=" | ">=" | "<" | ">"
 *     side     = an expression, as in a formula cell, in which readings may stand as well
 *     reading  = name "(" nets or a part, a limit, edge words ")", as in a reading cell
 *
 * At least one reading must stand somewhere. What the names and the tolerance mean is not looked at.
 */
export interface ParsedClaim {
  readonly left: FormulaTree;
  readonly right: FormulaTree;
  readonly relation: ClaimRelation;
  /** The sides as written. */
  readonly leftText: string;
  readonly rightText: string;
  /** What follows `within`, where it stands there. */
  readonly within: string | null;
  /** Readings as written, by the names that stand for them in the trees; no part can have such a name. */
  readonly readings: ReadonlyMap<string, string>;
}

/** A claim taken apart, or what is wrong with its text. */
export type ClaimParse =
  | { readonly ok: true; readonly claim: ParsedClaim }
  | { readonly ok: false; readonly fault: FormulaFault };

const RELATION = /<=|>=|≤|≥|=|<|>/g;
const WITHIN = /\bwithin\b([^()]*)$/;
const CALL = /([A-Za-z_]\w*)\s*\([^()]*\)/g;
const EXAMPLE = 'Write for example width(out) = 1.1 * R1 * C1 within 1 %.';
/** What typed signs mean. */
const relations: ReadonlyMap<string, ClaimRelation> = new Map([
  ...(['=', '<=', '>=', '<', '>'] as const).map((sign) => [sign, sign] as const),
  ['≤', '<='],
  ['≥', '>='],
]);

/**
 * Takes the text of a claim apart; never throws, whatever the text. Places in messages count characters of the whole text.
 *
 * @param isName whether a word is a name of the board; such words are names even where a unit is called the same.
 */
export function parseClaim(text: string, parse: FormulaParser, isName: (word: string) => boolean): ClaimParse {
  const found = WITHIN.exec(text);
  const body = found === null ? text : text.slice(0, found.index);
  const within = found === null ? null : (found[1] ?? '').trim();
  const signs = [...body.matchAll(RELATION)];
  const [sign, second] = signs;
  if (sign === undefined) {
    const got = text.trim() === '' ? 'nothing' : quotedText(text);
    return refuse('say what is compared: one of = <= >= < > between two sides', got, EXAMPLE);
  }
  if (second !== undefined) {
    const got = `${quotedText(second[0])} ${placeOf(second.index)} as well`;
    return refuse('compare once', got, 'Make two claims of it; equality is written with one =.');
  }
  if (within === '') return refuse('have a tolerance behind within', 'nothing', 'Write for example within 1 %.');
  const readings = new Map<string, string>();
  const misspelt = misspeltReading(body);
  if (misspelt !== undefined) return misspelt;
  const marked = body.replace(CALL, (call, name: string) => {
    if (!Object.hasOwn(readingForms, name)) return call;
    // As long as the reading, so that places in messages stay right.
    const mark = `_${readings.size}`.padEnd(call.length, '_');
    readings.set(mark, call);
    return mark;
  });
  if (readings.size === 0) {
    return refuse(
      'hold a reading, such as width(out)',
      quotedText(text),
      `A claim is about what a run gives. ${EXAMPLE}`,
    );
  }
  const end = sign.index + sign[0].length;
  const sides = [marked.slice(0, sign.index), ' '.repeat(end) + marked.slice(end)] as const;
  for (const [index, side] of sides.entries()) {
    if (side.trim() !== '') continue;
    const where = index === 0 ? 'before' : 'after';
    return refuse(`have something ${where} ${sign[0]}`, `nothing ${placeOf(index === 0 ? 0 : end)}`, EXAMPLE);
  }
  const isKnown = (word: string): boolean => readings.has(word) || isName(word);
  const [left, right] = sides.map((side) => parse(side, isKnown)) as [
    ReturnType<FormulaParser>,
    ReturnType<FormulaParser>,
  ];
  for (const side of [left, right]) {
    if (!side.ok) return { ok: false, fault: readingsIn(side.fault, readings) };
  }
  if (!left.ok || !right.ok) throw new RangeError('parseClaim: both sides must have been read.');
  return {
    ok: true,
    claim: {
      left: left.tree,
      right: right.tree,
      relation: relations.get(sign[0]) ?? '=',
      leftText: body.slice(0, sign.index).trim(),
      rightText: body.slice(end).trim(),
      within,
      readings,
    },
  };
}

/** A fault with the readings as they were written in place of the names that stand for them. */
export function readingsIn({ rule, got, advice }: FormulaFault, readings: ReadonlyMap<string, string>): FormulaFault {
  const written = (text: string): string =>
    [...readings].reduce((all, [mark, call]) => all.replaceAll(mark, call), text);
  return { rule: written(rule), got: written(got), advice: written(advice) };
}

/** A call that is nearly a reading and no function of formulas. */
function misspeltReading(body: string): ClaimParse | undefined {
  for (const call of body.matchAll(CALL)) {
    const name = call[1] ?? '';
    if (Object.hasOwn(readingForms, name) || formulaFunctions.has(name)) continue;
    const near = nearestName(name, readingNames);
    if (near === undefined) continue;
    return refuse(
      'call only readings and functions',
      `${quotedText(name)} ${placeOf(call.index)}`,
      `Did you mean ${near}?`,
    );
  }
  return undefined;
}

function placeOf(start: number): string {
  return `at character ${start + 1}`;
}

function refuse(rule: string, got: string, advice: string): ClaimParse {
  return { ok: false, fault: { rule, got, advice } };
}
