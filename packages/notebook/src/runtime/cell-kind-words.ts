/** What each kind of cell is called in a sentence, where that is not its own name. */
const words: Readonly<Record<string, string>> = {
  board: 'circuit',
  fates: 'list of fates',
  ask: 'question',
  swaps: 'kit',
  symptoms: 'list of faults',
  capture: 'measurement',
};

/** What a kind of cell is called in a sentence. */
export function cellKindWords(kind: string): string {
  return (Object.hasOwn(words, kind) ? words[kind] : undefined) ?? kind;
}
