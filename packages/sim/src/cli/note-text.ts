import { replaceQuotes, type NoteResult } from '../document/index.ts';
import { WIDTH, wrapWords } from './columns.ts';

/**
 * A note as text: its Markdown as it stands, with every quoted number in place and long lines wrapped. Tables and
 * indented lines are left alone.
 */
export function noteText(text: string, { quotes }: NoteResult): string[] {
  const filled = replaceQuotes(text, (target) => (Object.hasOwn(quotes, target) ? quotes[target] : undefined));
  return filled.split(/\r?\n/).flatMap((line) => {
    if (/^(\s{4}|\s*\|)/.test(line)) return [line];
    const bullet = /^\s*(?:[-*]|\d+\.) /.exec(line)?.[0] ?? '';
    const [first = '', ...rest] = wrapWords(line.slice(bullet.length), WIDTH - bullet.length);
    return [bullet + first, ...rest.map((more) => ' '.repeat(bullet.length) + more)];
  });
}
