import { boxes } from '@two-thirds/sim/chart';
import type { TraceResult } from '@two-thirds/sim/document';
import { css, html, nothing, type PropertyValues, svg, type TemplateResult } from 'lit';
import { property } from 'lit/decorators.js';
import { overviewScene } from '../chart/overview.ts';
import { panned, spanning, type Window } from '../chart/view.ts';
import { shared } from '../styles/shared.ts';
import { drawn } from './drawn.ts';
import { DrawnInTurn } from './drawn-in-turn.ts';
import { handler } from './handler-property.ts';

/** A press this near to an edge of the frame takes hold of the edge (pixels). */
const EDGE_GRIP = 7;

/**
 * The whole run in a narrow strip, with a frame around what is looked at. The frame is pulled along, its edges are
 * pulled apart, and a press elsewhere marks out a new one. Everything it does can be done by keys in the trace above.
 */
export class Overview extends DrawnInTurn {
  static override styles = [
    shared,
    css`
      svg {
        display: block;
        width: 100%;
        touch-action: pan-y;
        cursor: crosshair;
      }
      .ground {
        fill: var(--raised);
      }
      .line {
        fill: none;
        stroke: var(--edge);
      }
      .bar {
        fill: var(--bar);
        opacity: 0.6;
      }
      .outside {
        fill: var(--ground);
        opacity: 0.6;
      }
      .frame {
        fill: transparent;
        stroke: var(--slate);
        stroke-width: 1.6;
        cursor: grab;
      }
      .grip {
        stroke: var(--slate);
        stroke-width: 4;
        stroke-linecap: round;
        cursor: ew-resize;
      }
    `,
  ];

  /** The whole run. */
  @property({ attribute: false }) trace: TraceResult | undefined;
  @property({ attribute: false }) view: Window | undefined;
  /** Width of the strip, and where in it the run begins and ends (pixels). */
  @property({ attribute: false }) width = 0;
  @property({ attribute: false }) left = 0;
  @property({ attribute: false }) right = 0;
  /** Called with what is to be looked at. */
  @property(handler) look: (view: Window) => void = () => undefined;
  /** From a press on: the view that belongs to a place of the pointer (s). */
  private pull: ((time: number) => Window) | undefined;

  /** Part of {@link DrawnInTurn}: the trace itself comes first. */
  protected override canWait(changed: PropertyValues<this>): boolean {
    const isWhole = this.view === this.trace;
    return changed.size > 0 && [...changed.keys()].every((name) => name === 'trace' || (isWhole && name === 'view'));
  }

  protected override render(): TemplateResult | typeof nothing {
    const { trace, view, width, left, right } = this;
    if (trace === undefined || view === undefined || right <= left) return nothing;
    const { height, line, bars, x } = overviewScene(trace, left, right);
    const [from, until] = [x(view.from), Math.max(x(view.from) + 2, x(view.until))];
    return html`<svg
      viewBox="0 0 ${width} ${height}"
      height=${height}
      aria-hidden="true"
      @pointerdown=${this.press}
      @pointermove=${this.drag}
      @pointerup=${this.letGo}
      @pointercancel=${this.letGo}
    >
      <rect class="ground" x=${left} y="1" width=${right - left} height=${height - 2} />
      ${drawn([
        boxes(
          'bar',
          bars.map((bar) => ({ x: bar.x, width: bar.width, y: height - 9, height: 6 })),
        ),
      ])}
      <path class="line" d=${line} />
      <rect class="outside" x=${left} y="1" width=${Math.max(0, from - left)} height=${height - 2} />
      <rect class="outside" x=${until} y="1" width=${Math.max(0, right - until)} height=${height - 2} />
      <rect class="frame" x=${from} y="1" width=${until - from} height=${height - 2} />
      ${[from, until].map(
        (edge) => svg`<line class="grip" x1=${edge} x2=${edge} y1=${height / 2 - 5} y2=${height / 2 + 5} />`,
      )}
    </svg>`;
  }

  private timeOf(event: PointerEvent): number {
    const { trace, left, right, width } = this;
    const box = (event.currentTarget as Element).getBoundingClientRect();
    const at = ((event.clientX - box.left) / box.width) * width;
    const { from, until } = trace ?? { from: 0, until: 0 };
    return from + ((at - left) / (right - left)) * (until - from);
  }

  private readonly press = (event: PointerEvent): void => {
    const { trace, view } = this;
    if (trace === undefined || view === undefined || event.button !== 0) return;
    (event.currentTarget as Element).setPointerCapture(event.pointerId);
    const start = this.timeOf(event);
    const grip = (EDGE_GRIP / (this.right - this.left)) * (trace.until - trace.from);
    const isPart = view.from > trace.from || view.until < trace.until;
    if (isPart && Math.abs(start - view.from) < grip) this.pull = (time) => spanning(trace, time, view.until);
    else if (isPart && Math.abs(start - view.until) < grip) this.pull = (time) => spanning(trace, view.from, time);
    else if (isPart && start > view.from && start < view.until) {
      this.pull = (time) => panned(view, trace, time - start);
    } else this.pull = (time) => (Math.abs(time - start) < grip ? view : spanning(trace, start, time));
  };

  private readonly drag = (event: PointerEvent): void => {
    if (this.pull !== undefined) this.look(this.pull(this.timeOf(event)));
  };

  private readonly letGo = (): void => {
    this.pull = undefined;
  };
}
