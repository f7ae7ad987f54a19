/** The end of a segment; ends with the same key are the same point. */
interface SegmentEnd {
  readonly key: string;
  readonly x: number;
  readonly y: number;
}

/** A straight piece of a line. */
export interface Segment {
  readonly a: SegmentEnd;
  readonly b: SegmentEnd;
}

/** Points [x, y] of one line; closed where the last is the first. */
export type Polyline = readonly (readonly [x: number, y: number])[];

/** Joins segments that share ends to lines as long as possible. Where more than two meet, lines end. */
export function polylines(segments: readonly Segment[]): Polyline[] {
  const at = new Map<string, number[]>();
  for (const [index, { a, b }] of segments.entries()) {
    for (const { key } of [a, b]) {
      const known = at.get(key);
      if (known === undefined) at.set(key, [index]);
      else known.push(index);
    }
  }
  const used = new Set<number>();
  const follow = (start: SegmentEnd, first: number): Polyline => {
    const line: [number, number][] = [[start.x, start.y]];
    let end = start;
    for (let next: number | undefined = first; next !== undefined; ) {
      used.add(next);
      const { a, b } = segments[next]!;
      end = a.key === end.key ? b : a;
      line.push([end.x, end.y]);
      const meeting: readonly number[] = at.get(end.key) ?? [];
      next = meeting.length === 2 ? meeting.find((index) => !used.has(index)) : undefined;
    }
    return line;
  };
  const lines: Polyline[] = [];
  for (const [index, { a, b }] of segments.entries()) {
    for (const end of [a, b]) if (!used.has(index) && at.get(end.key)?.length !== 2) lines.push(follow(end, index));
  }
  // What is left are rings.
  for (const [index, { a }] of segments.entries()) if (!used.has(index)) lines.push(follow(a, index));
  return lines;
}
