/** Sets of names that grow together as pairs are joined (a union-find structure with path halving). */
export class Groups {
  readonly #parents = new Map<string, string>();

  /** The name that stands for the whole group of `name`; a name never seen is a group of its own. */
  representative(name: string): string {
    let current = name;
    for (;;) {
      const parent = this.#parents.get(current);
      if (parent === undefined) return current;
      const grandparent = this.#parents.get(parent);
      if (grandparent === undefined) return parent;
      this.#parents.set(current, grandparent);
      current = grandparent;
    }
  }

  /** Makes one group of two. Returns false if they were one already. */
  join(a: string, b: string): boolean {
    const first = this.representative(a);
    const second = this.representative(b);
    if (first === second) return false;
    this.#parents.set(second, first);
    return true;
  }

  /** Whether two names are in one group. */
  together(a: string, b: string): boolean {
    return this.representative(a) === this.representative(b);
  }
}
