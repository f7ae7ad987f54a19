import { listedText } from '@two-thirds/sim/quantity';
import type { ReactiveControllerHost } from 'lit';
import type { PartPlace } from '../schematic/part-places.ts';

/** Parts that are named one by one; further ones are counted. */
const MOST_NAMED = 4;
/** A step to one side leaves this share of what was in view there. */
const STEP = 0.7;

/**
 * Knows which parts of a drawing that is wider than its place lie beyond its edges, in part at least, and goes there. Where
 * there are none it is names of nets that do.
 */
export class WideDrawing {
  /** What is beyond the left and the right edge, in words; empty where nothing is. */
  left = '';
  right = '';
  private readonly host: ReactiveControllerHost;

  constructor(host: ReactiveControllerHost) {
    this.host = host;
  }

  /** Takes in what is in view of a drawing. */
  look(view: Element, parts: readonly PartPlace[], nets: readonly PartPlace[]): void {
    const { scrollLeft, scrollWidth, clientWidth } = view;
    const isBeyond = (side: 'left' | 'right', { from, to }: PartPlace): boolean =>
      side === 'left' ? from * scrollWidth < scrollLeft : to * scrollWidth > scrollLeft + clientWidth + 1;
    const words = (side: 'left' | 'right'): string => {
      const found = [parts, nets].map((places) => places.filter((each) => isBeyond(side, each)));
      const beyond = (found.find((places) => places.length > 0) ?? []).toSorted((one, other) => one.from - other.from);
      return listed([...new Set(beyond.map(({ part }) => part))]);
    };
    const [left, right] = [words('left'), words('right')];
    if (left === this.left && right === this.right) return;
    [this.left, this.right] = [left, right];
    this.host.requestUpdate();
  }

  /** Goes on to one side. */
  step(view: Element, side: 'left' | 'right'): void {
    view.scrollLeft += (side === 'left' ? -STEP : STEP) * view.clientWidth;
  }

  /** Brings a part into view if it lies beyond an edge. */
  show(view: Element, { from, to }: PartPlace): void {
    const { scrollLeft, scrollWidth, clientWidth } = view;
    const isInView = from * scrollWidth >= scrollLeft && to * scrollWidth <= scrollLeft + clientWidth + 1;
    if (!isInView) view.scrollLeft = ((from + to) / 2) * scrollWidth - clientWidth / 2;
  }
}

function listed(parts: readonly string[]): string {
  const rest = parts.length - MOST_NAMED;
  if (rest > 1) return `${parts.slice(0, MOST_NAMED).join(', ')} and ${rest} more`;
  return listedText(parts);
}
