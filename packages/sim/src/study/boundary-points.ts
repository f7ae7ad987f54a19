/** Points of a boundary that a curve is drawn through. */
const MOST_JOINED = 3;

/**
 * Points of boundaries that were crossed on lines along one axis. They tell where lines along the other one will cross them:
 * where a parabola through the nearest three leads, or a straight line through two.
 */
export class BoundaryPoints {
  readonly #points = new Map<string, Point[]>();

  /** A boundary between two regions runs through a point. @param line its place across, @param at and along the lines to come. */
  add(line: number, at: number, one: string, other: string): void {
    for (const region of [one, other]) {
      const known = this.#points.get(region);
      const point = { line, at, other: region === one ? other : one };
      if (known === undefined) this.#points.set(region, [point]);
      else known.push(point);
    }
  }

  /** Where a region may end on a line, between two places of it; undefined where nothing is known. */
  guess(region: string, line: number, from: number, to: number): number | undefined {
    const known = this.#points.get(region) ?? [];
    for (const other of new Set(known.map((point) => point.other))) {
      const near = known
        .filter((point) => point.other === other)
        .sort((p, q) => Math.abs(p.line - line) - Math.abs(q.line - line))
        .slice(0, MOST_JOINED);
      const at = near.length > 1 ? through(near, line) : NaN;
      if (at > from && at < to) return at;
    }
    return undefined;
  }
}

interface Point {
  readonly line: number;
  readonly at: number;
  readonly other: string;
}

/** Where the polynomial through some points leads (Lagrange); no number where two of them lie on one line. */
function through(points: readonly Point[], line: number): number {
  return points.reduce((sum, { line: own, at }, i) => {
    const weight = points.reduce((w, other, j) => (i === j ? w : (w * (line - other.line)) / (own - other.line)), 1);
    return sum + weight * at;
  }, 0);
}
