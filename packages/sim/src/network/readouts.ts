/** A list whose entries are worked out when they are first asked for: a run looks at few of the readouts that a mode has. */
export class Readouts<Entry> {
  private readonly entries: (Entry | undefined)[] = [];
  /** Those that have been forgotten. */
  private readonly former: (Entry | undefined)[] = [];
  /** How many times each has been forgotten. */
  private readonly times: number[];

  /** @param make an entry; in the memory of the former one, if there is one. */
  constructor(
    readonly length: number,
    private readonly make: (index: number, former: Entry | undefined) => Entry,
  ) {
    this.times = new Array<number>(length).fill(0);
  }

  /** A number that grows whenever an entry may have become another one. */
  version(index: number): number {
    return this.times[index]!;
  }

  /** The entry with this index, from 0 to length - 1. */
  at(index: number): Entry {
    return (this.entries[index] ??= this.make(index, this.former[index]));
  }

  /** All entries, in their order. */
  all(): Entry[] {
    return Array.from({ length: this.length }, (_, index) => this.at(index));
  }

  /** Has all entries worked out anew, or those with some indices alone. */
  forget(only?: readonly number[]): void {
    if (only) for (let at = 0; at < only.length; at++) this.forgetOne(only[at]!);
    else for (let index = 0; index < this.entries.length; index++) this.forgetOne(index);
  }

  private forgetOne(index: number): void {
    const { entries, former } = this;
    if (entries[index] === undefined) return;
    former[index] = entries[index];
    entries[index] = undefined;
    this.times[index]!++;
  }
}
