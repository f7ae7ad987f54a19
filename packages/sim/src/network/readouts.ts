/** A list whose entries are worked out when they are first asked for: a run looks at few of the readouts that a mode has. */
export class Readouts<Entry> {
  private readonly known: (Entry | undefined)[] = [];

  constructor(
    readonly length: number,
    private readonly make: (index: number) => Entry,
  ) {}

  /** The entry with this index, from 0 to length - 1. */
  at(index: number): Entry {
    return (this.known[index] ??= this.make(index));
  }

  /** All entries, in their order. */
  all(): Entry[] {
    return Array.from({ length: this.length }, (_, index) => this.at(index));
  }
}
