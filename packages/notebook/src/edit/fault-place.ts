/** A stretch of a text; characters from 0, the end not included. */
export interface TextPlace {
  readonly start: number;
  readonly end: number;
}

/**
 * Where in a text a complaint about it points: the character it names, else what it says it found, else all of the text;
 * `undefined` where there is no text. Complaints are in the one grammar of all messages: `... must ...; got ... . ...`.
 */
export function faultPlace(text: string, complaint: string): TextPlace | undefined {
  const end = text.trimEnd().length;
  if (end === 0) return undefined;
  const named = /at character (\d+)/.exec(complaint)?.[1];
  if (named !== undefined) return pieceAt(text, Math.min(Number(named) - 1, end - 1));
  const found = /; got [^"]*("(?:[^"\\]|\\.)*")/.exec(complaint)?.[1];
  return (found === undefined ? undefined : wordIn(text, found)) ?? { start: 0, end };
}

/** The word or number that begins at a character, or that character alone. */
function pieceAt(text: string, start: number): TextPlace {
  const piece = /^[\w.%\u00b5\u03bc\u03a9\u2126]+/.exec(text.slice(start))?.[0];
  return { start, end: start + (piece?.length ?? 1) };
}

/** Where something quoted stands in a text, by itself and not as a part of a longer word. */
function wordIn(text: string, quoted: string): TextPlace | undefined {
  const word = readQuoted(quoted);
  const isPart = (character: string | undefined): boolean => character !== undefined && /\w/.test(character);
  for (let start = text.indexOf(word); start >= 0 && word !== ''; start = text.indexOf(word, start + 1)) {
    const end = start + word.length;
    const isWord = isPart(word[0]) && isPart(word.at(-1));
    if (!isWord || (!isPart(text[start - 1]) && !isPart(text[end]))) return { start, end };
  }
  return undefined;
}

/** A quoted text without its quotes. */
function readQuoted(quoted: string): string {
  try {
    return String(JSON.parse(quoted));
  } catch {
    return '';
  }
}
