import { quotedText } from '../core/found-text.ts';

/** Deepest nesting of lists and objects that is read. The format itself needs 9. */
export const DEEPEST_NESTING = 64;

/** The data a JSON text holds, or what is wrong with it and where. */
export type JsonResult =
  | { readonly ok: true; readonly value: unknown }
  | {
      readonly ok: false;
      /** Line and column, counted from 1, as `line 3, column 14`. */
      readonly where: string;
      readonly rule: string;
      readonly got: string;
      readonly advice: string;
    };

/**
 * Reads JSON (RFC 8259) as `JSON.parse` does, but says what is wrong in words and by line and column, refuses a name
 * given twice in one object (of which `JSON.parse` would silently drop the first), numbers beyond what a double holds,
 * and nesting deeper than {@link DEEPEST_NESTING}. A byte order mark at the start is skipped. Never throws.
 */
export function readJson(text: string): JsonResult {
  const reader = new JsonReader(text);
  try {
    return { ok: true, value: reader.document() };
  } catch (error) {
    if (!(error instanceof JsonFault)) throw error;
    return {
      ok: false,
      where: placeOf(text, error.position),
      rule: error.rule,
      got: error.got ?? foundAt(text, error.position),
      advice: error.advice,
    };
  }
}

/** Carries a fault out of the nested readers; never leaves this file. */
class JsonFault extends Error {
  readonly position: number;
  readonly rule: string;
  readonly advice: string;
  readonly got?: string;

  constructor(position: number, rule: string, advice: string, got?: string) {
    super(rule);
    this.position = position;
    this.rule = rule;
    this.advice = advice;
    if (got !== undefined) this.got = got;
  }
}

const SPACE = /[ \t\n\r]*/y;
const NUMBER = /-?(?:0|[1-9][0-9]*)(?:\.[0-9]+)?(?:[eE][+-]?[0-9]+)?/y;
// Everything up to the closing quote; escapes are checked by JSON.parse below.
const STRING = /"(?:[^"\\\u0000-\u001f]|\\.)*"/y;
const WORDS: readonly (readonly [string, unknown])[] = [
  ['true', true],
  ['false', false],
  ['null', null],
];

class JsonReader {
  private at = 0;
  private depth = 0;
  private readonly text: string;

  constructor(text: string) {
    this.text = text;
  }

  document(): unknown {
    if (this.text.startsWith('\uFEFF')) this.at = 1;
    this.space();
    if (this.at === this.text.length) {
      throw new JsonFault(0, 'hold a notebook document', 'Open another file, or write one.', 'nothing but blanks');
    }
    const value = this.value();
    this.space();
    if (this.at < this.text.length) {
      throw new JsonFault(this.at, 'end after the closing bracket', 'Delete what follows, or put a comma before it.');
    }
    return value;
  }

  private space(): void {
    SPACE.lastIndex = this.at;
    SPACE.exec(this.text);
    this.at = SPACE.lastIndex;
  }

  private value(): unknown {
    const next = this.text[this.at];
    if (next === '{') return this.nested(() => this.object());
    if (next === '[') return this.nested(() => this.list());
    if (next === '"') return this.string();
    if (next === '-' || (next !== undefined && next >= '0' && next <= '9')) return this.number();
    for (const [word, value] of WORDS) {
      if (this.text.startsWith(word, this.at)) {
        this.at += word.length;
        return value;
      }
    }
    throw new JsonFault(
      this.at,
      'hold a value here: {, [, a text in double quotes, a number, true, false or null',
      'Look just before this place for a comma too many or a missing value.',
    );
  }

  private nested<T>(read: () => T): T {
    this.depth += 1;
    if (this.depth > DEEPEST_NESTING) {
      throw new JsonFault(
        this.at,
        `nest lists and objects at most ${DEEPEST_NESTING} deep`,
        'Check the file for brackets that were never closed.',
        'one more',
      );
    }
    const value = read();
    this.depth -= 1;
    return value;
  }

  private object(): Record<string, unknown> {
    const object: Record<string, unknown> = {};
    this.at += 1;
    this.space();
    if (this.take('}')) return object;
    for (;;) {
      const start = this.at;
      if (this.text[this.at] !== '"') {
        throw new JsonFault(
          this.at,
          'name the next field in double quotes here',
          'Look for a comma too many or a missing quote.',
        );
      }
      const name = this.string();
      if (Object.hasOwn(object, name)) {
        throw new JsonFault(
          start,
          'give every name once in one object',
          'Rename or delete one of the two, so that nothing is lost.',
          `${quotedText(name)} twice`,
        );
      }
      this.space();
      if (!this.take(':'))
        throw new JsonFault(this.at, 'go on with a colon after the name', 'Add the colon and the value.');
      this.space();
      const value = this.value();
      // Defined, not assigned: assigning to `__proto__` would change the object itself.
      Object.defineProperty(object, name, { value, writable: true, enumerable: true, configurable: true });
      this.space();
      if (this.take('}')) return object;
      if (!this.take(',')) throw new JsonFault(this.at, 'go on with a comma or } here', 'Add what is missing.');
      this.space();
    }
  }

  private list(): unknown[] {
    const list: unknown[] = [];
    this.at += 1;
    this.space();
    if (this.take(']')) return list;
    for (;;) {
      list.push(this.value());
      this.space();
      if (this.take(']')) return list;
      if (!this.take(',')) throw new JsonFault(this.at, 'go on with a comma or ] here', 'Add what is missing.');
      this.space();
    }
  }

  private take(character: string): boolean {
    if (this.text[this.at] !== character) return false;
    this.at += 1;
    return true;
  }

  private string(): string {
    STRING.lastIndex = this.at;
    const found = STRING.exec(this.text);
    if (found !== null) {
      try {
        const value = JSON.parse(found[0]) as string;
        this.at = STRING.lastIndex;
        return value;
      } catch {
        // A backslash that begins no escape: reported below, like a text that never ends.
      }
    }
    throw new JsonFault(
      this.at,
      'close the text that begins here with a double quote on the same line, and use \\ only for escapes such as \\n or \\u00b5',
      'Close the text, or write \\\\ for a backslash.',
    );
  }

  private number(): number {
    NUMBER.lastIndex = this.at;
    const found = NUMBER.exec(this.text);
    const value = Number(found?.[0]);
    const next = this.text[NUMBER.lastIndex];
    if (found === null || (next !== undefined && /[\w.+-]/.test(next)) || !Number.isFinite(value)) {
      throw new JsonFault(
        this.at,
        'hold a finite number here, such as 68000 or 4.7e-6',
        'Numbers have a point, no leading 0 or +, and no unit; put quantities with a unit in quotes, such as "68 kΩ".',
      );
    }
    this.at = NUMBER.lastIndex;
    return value;
  }
}

function placeOf(text: string, position: number): string {
  let line = 1;
  let start = 0;
  for (let end = text.indexOf('\n'); end !== -1 && end < position; end = text.indexOf('\n', start)) {
    line += 1;
    start = end + 1;
  }
  return `line ${line}, column ${position - start + 1}`;
}

function foundAt(text: string, position: number): string {
  if (position >= text.length) return 'the end of the file';
  const rest = /^(?:[\w.+-]+|"[^"\n]{0,20}|[^])/u.exec(text.slice(position, position + 24));
  return quotedText(rest?.[0] ?? '');
}
