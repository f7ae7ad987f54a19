/** What an object keeps, through fields, lists and maps: how many objects, and how many numbers in typed arrays. */
export interface Kept {
  readonly objects: number;
  readonly numbers: number;
}

/** Counts what an object keeps. What only weak maps lead to is not kept, nor is what only functions have seen. */
export function keptBy(root: object): Kept {
  const seen = new Set<object>([root]);
  const buffers = new Set<ArrayBufferLike>();
  for (const each of seen) {
    const add = (value: unknown): void => {
      if (typeof value === 'object' && value !== null) seen.add(value);
    };
    if (ArrayBuffer.isView(each)) {
      buffers.add(each.buffer);
      continue;
    }
    if (each instanceof Map) {
      for (const [key, value] of each) {
        add(key);
        add(value);
      }
    }
    if (each instanceof Set) each.forEach(add);
    Object.values(each).forEach(add);
  }
  const bytes = [...buffers].reduce((sum, { byteLength }) => sum + byteLength, 0);
  return { objects: seen.size, numbers: bytes / Float64Array.BYTES_PER_ELEMENT };
}
