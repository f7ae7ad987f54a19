/** A list whose entries are worked out when they are first asked for: a run looks at few of the readouts that a mode has. */
export class Readouts<Entry> {
  private readonly entries: (Entry | undefined)[] = [];
  private readonly known: Uint8Array;

  /** @param make an entry; in the memory of the former one, if there is one. */
  constructor(
    readonly length: number,
    private readonly make: (index: number, former: Entry | undefined) => Entry,
  ) {
    this.known = new Uint8Array(length);
  }

  /** The entry with this index, from 0 to length - 1. */
  at(index: number): Entry {
    if (this.known[index] === 1) return this.entries[index]!;
    const entry = this.make(index, this.entries[index]);
    this.entries[index] = entry;
    this.known[index] = 1;
    return entry;
  }

  /** All entries, in their order. */
  all(): Entry[] {
    return Array.from({ length: this.length }, (_, index) => this.at(index));
  }

  /** Has all entries worked out anew. */
  forget(): void {
    this.known.fill(0);
  }
}
