import { standardKinds } from '../device/standard-kinds.ts';
import type { Unit } from '../quantity/index.ts';

/** A field that a kind of part has, as editors need to know it. */
export interface KindField {
  readonly name: string;
  /** What it is, in a few words. */
  readonly title: string;
  /** Unit of a plain quantity; absent for lists, waves, choices and flags. */
  readonly unit?: Unit;
  /** The words that it may be, where it is one of a few. */
  readonly words?: readonly string[];
}

/** The fields of a kind of part, in its order; none where the kind is not known. */
export function kindFields(kind: string): readonly KindField[] {
  const fields = standardKinds.get(kind)?.fields ?? [];
  return fields.map(({ name, title, unit, read }) => ({
    name,
    title,
    ...(unit === undefined ? {} : { unit }),
    ...(read.words === undefined ? {} : { words: read.words }),
  }));
}
