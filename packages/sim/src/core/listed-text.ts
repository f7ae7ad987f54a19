/** Several things in a sentence: `R1, R2 and C1`. @param last the word before the last of them. */
export function listedText(texts: readonly string[], last = 'and'): string {
  if (texts.length < 2) return texts.join('');
  return `${texts.slice(0, -1).join(', ')} ${last} ${texts.at(-1) ?? ''}`;
}
