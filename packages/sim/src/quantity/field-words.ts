/** The name of a field in words, as people say it: `release time` for `releaseTime`. */
export function fieldWords(name: string): string {
  return name.replace(/(?<=[a-z])[A-Z]/g, (capital) => ` ${capital.toLowerCase()}`);
}
