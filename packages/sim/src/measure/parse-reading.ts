import { nearestName } from '../core/nearest-name.ts';
import { IssueError, type IssueWording, issueText } from '../core/errors.ts';
import { foundText, quotedText } from '../core/found-text.ts';
import { readQuantity, type Unit } from '../quantity/index.ts';
import { type EdgeWord, type ReadingForm, type ReadingName, readingForms, readingNames } from './reading-names.ts';

/** A reading as written, taken apart. Whether its nets and parts exist is for `checkReading` to say. */
export interface ParsedReading {
  readonly name: ReadingName;
  /** As written, without space around it. */
  readonly text: string;
  readonly nets: readonly string[];
  readonly part?: string;
  /** Level (V) above which a net counts as high, where given. */
  readonly limit?: number;
  /** The time (s) that `level` asks about. */
  readonly at?: number;
  /** Edge words as given, none to two. */
  readonly edges: readonly EdgeWord[];
}

const CALL = /^([^()\s]+)\s*\(([^()]*)\)$/;
const NAME = /^[A-Za-z][A-Za-z0-9_]*(\.[A-Za-z][A-Za-z0-9_]*)*$/;
/** Longer than any call with two long names; keeps messages and work small. */
const LONGEST = 300;

/**
 * Reads a call such as `width(out)`, `width(out, 3 V)`, `first(out, fall)` or `delay(in, out, fall, rise)`. What stands
 * where a name belongs is read as a name, so a net may be called `in` or `fall`.
 *
 * @param input what the file holds; anything.
 * @param where place in the document, for messages.
 * @throws IssueError with one fault that says what was found and what would be right.
 */
export function parseReading(input: unknown, where = 'reading'): ParsedReading {
  if (typeof input !== 'string' || input.length > LONGEST) {
    const got = typeof input === 'string' ? `a text of ${input.length} characters` : foundText(input);
    throw refuse('not-a-reading', { where, rule: 'be a reading', got, advice: 'Write for example width(out).' });
  }
  const text = input.trim();
  const call = CALL.exec(text);
  if (call === null) {
    throw refuse('not-a-reading', {
      where,
      rule: 'be a reading, a name with brackets',
      got: foundText(text),
      advice: 'Write for example width(out) or ratio(out, in).',
    });
  }
  const name = knownName(call[1]!, where);
  const form: ReadingForm = readingForms[name];
  const inner = call[2]!.trim();
  const given = inner === '' ? [] : inner.split(',').map((argument) => argument.trim());
  const wanted = form.takes === 'two nets' || form.takes === 'net and time' ? 2 : 1;
  if (given.length < wanted || given.includes('')) {
    const what = { net: 'a net', 'two nets': 'two nets', 'net and time': 'a net and a time', part: 'a part' };
    throw refuse('reading-argument', {
      where,
      field: name,
      rule: `name ${what[form.takes]}`,
      got: inner === '' ? 'empty brackets' : quotedText(inner),
      advice: `Write for example ${form.example}.`,
    });
  }
  const names = given.slice(0, form.takes === 'two nets' ? 2 : 1).map((word) => properName(word, name, where));
  const rest = given.slice(names.length);
  const found = form.takes === 'part' ? { nets: [], part: names[0] } : { nets: names };
  if (form.takes === 'net and time') {
    noMore(rest.slice(1), name, where);
    return { name, text, ...found, at: quantity(rest[0]!, 's', name, where), edges: [] };
  }
  return { name, text, ...found, ...options(rest, name, where) };
}

/** Limit and edge words, in any order. */
function options(
  words: readonly string[],
  name: ReadingName,
  where: string,
): { readonly limit?: number; readonly edges: readonly EdgeWord[] } {
  const form: ReadingForm = readingForms[name];
  const edges: EdgeWord[] = [];
  let limit: number | undefined;
  for (const word of words) {
    if ((word === 'rise' || word === 'fall') && form.edges > 0) {
      edges.push(word);
      if (edges.length > form.edges) noMore([word], name, where);
    } else if (form.limit && limit === undefined && word !== 'rise' && word !== 'fall') {
      limit = limitOrEdge(word, name, where);
    } else noMore([word], name, where);
  }
  return limit === undefined ? { edges } : { limit, edges };
}

function limitOrEdge(word: string, name: ReadingName, where: string): number {
  if (!/^[A-Za-z_]/.test(word)) return quantity(word, 'V', name, where);
  const takesEdges = readingForms[name].edges > 0;
  throw refuse('reading-argument', {
    where,
    field: name,
    rule: takesEdges ? 'be followed by a limit in volts, rise or fall' : 'be followed by a limit in volts, if anything',
    got: quotedText(word),
    advice: `Write for example ${readingForms[name].example.replace(')', takesEdges ? ', fall)' : ', 3 V)')}.`,
  });
}

function quantity(word: string, unit: Unit, name: ReadingName, where: string): number {
  const result = readQuantity(word, unit);
  if (result.ok) return result.value;
  const message = `${where}: ${name} ${result.message}`;
  throw new IssueError([{ code: 'reading-argument', severity: 'fault', where, field: name, message }]);
}

function noMore(words: readonly string[], name: ReadingName, where: string): void {
  if (words.length === 0) return;
  const other = { width: 'low', low: 'width', widths: 'lows', lows: 'widths' }[name as string];
  const edge = words[0] === 'rise' || words[0] === 'fall';
  throw refuse('reading-argument', {
    where,
    field: name,
    rule: 'end there',
    got: `${quotedText(words[0]!)} as well`,
    advice:
      edge && other !== undefined
        ? `Use ${other}(...) for the other one.`
        : `Write for example ${readingForms[name].example}.`,
  });
}

function properName(word: string, name: ReadingName, where: string): string {
  if (NAME.test(word)) return word;
  throw refuse('reading-argument', {
    where,
    field: name,
    rule: `name a ${readingForms[name].takes === 'part' ? 'part' : 'net'}`,
    got: quotedText(word),
    advice: `Write for example ${readingForms[name].example}.`,
  });
}

function knownName(word: string, where: string): ReadingName {
  if (Object.hasOwn(readingForms, word)) return word as ReadingName;
  const near = nearestName(word, readingNames);
  throw refuse('unknown-reading', {
    where,
    rule: `be one of the readings ${readingNames.join(', ')}`,
    got: quotedText(word),
    advice: near === undefined ? 'Choose one of them.' : `Did you mean ${near}?`,
  });
}

function refuse(code: string, wording: IssueWording): IssueError {
  const { where, field } = wording;
  const issue = { code, severity: 'fault' as const, where, message: issueText(wording) };
  return new IssueError([field === undefined ? issue : { ...issue, field }]);
}
