/** A table of text, for everybody who would rather read than look. */
export interface DataTable {
  readonly caption: string;
  readonly columns: readonly string[];
  /** The first of each row is its head. */
  readonly rows: readonly (readonly string[])[];
}
