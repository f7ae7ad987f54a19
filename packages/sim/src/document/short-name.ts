/** A name of the circuit that is run, as the board's own cells write it: without the prefix of a linked board. */
export function shortName(name: string, prefix: string): string {
  return name.startsWith(prefix) ? name.slice(prefix.length) : name;
}
