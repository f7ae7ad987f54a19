import type { CellResult } from '@two-thirds/sim/document';
import { css, html, LitElement, nothing, type TemplateResult } from 'lit';
import { property } from 'lit/decorators.js';
import type { Json } from '../edit/json.ts';
import { loadPoint, type PointValue } from '../edit/load-point.ts';
import { boardOf, type PageCell } from '../runtime/cells.ts';
import { shared } from '../styles/shared.ts';
import { EditEvent } from './events.ts';

/** The result of a cell that computes many runs, in the element of its kind. */
export class Study extends LitElement {
  static override styles = [
    shared,
    css`
      .share {
        font-size: var(--small);
        color: var(--gold);
      }
      .sentence {
        max-width: 68ch;
      }
    `,
  ];

  @property({ attribute: false }) document: Json = null;
  @property({ attribute: false }) cell: PageCell | undefined;
  /** The last good result, or what is computed of it so far. */
  @property({ attribute: false }) result: CellResult | undefined;

  protected override render(): TemplateResult | typeof nothing {
    const { result, cell } = this;
    if (cell === undefined || result?.ok !== true) return nothing;
    const drawn = this.drawn(cell.id, result);
    return drawn === undefined || !('share' in result) ? nothing : html`${shareLine(result.share)}${drawn}`;
  }

  private drawn(cell: string, result: CellResult): TemplateResult | undefined {
    switch (result.kind) {
      case 'sweep':
        return html`<tt-sweep .cell=${cell} .result=${result} .load=${this.load}></tt-sweep>`;
      case 'map':
        return html`<tt-map .cell=${cell} .result=${result} .load=${this.load}></tt-map>`;
      case 'spread':
        return html`<tt-spread .cell=${cell} .result=${result}></tt-spread>`;
      case 'choose':
        return html`<tt-choose .cell=${cell} .result=${result} .load=${this.load}></tt-choose>`;
      case 'claim':
        return html`<tt-claim .cell=${cell} .result=${result} .load=${this.load}></tt-claim>`;
      default:
        return 'sentence' in result ? html`<p class="sentence">${result.sentence}</p>` : undefined;
    }
  }

  /** Gives the board the values of a point. */
  private readonly load = (values: readonly PointValue[]): void => {
    const { cell } = this;
    const edit = cell === undefined ? undefined : loadPoint(this.document, boardOf(cell) ?? '', values);
    if (edit !== undefined) this.dispatchEvent(new EditEvent(edit));
  };
}

function shareLine(share: number): TemplateResult | typeof nothing {
  return share < 1 ? html`<p class="share">${Math.floor(share * 100)} % of it computed</p>` : nothing;
}
