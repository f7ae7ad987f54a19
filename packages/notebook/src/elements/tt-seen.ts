import type { SymptomsResult } from '@two-thirds/sim/document';
import { percentText } from '@two-thirds/sim/quantity';
import { css, html, LitElement, nothing, type TemplateResult } from 'lit';
import { property, state } from 'lit/decorators.js';
import { type FitLine, fitLines, readingText, seenReadings } from '../chart/symptoms-table.ts';
import type { BoardChange } from '../edit/board-change.ts';
import { isOtherJson, isRecord } from '../edit/json.ts';
import { type PageCell, written } from '../runtime/cells.ts';
import { inside } from '../runtime/plan-field.ts';
import { shared } from '../styles/shared.ts';
import { tableStyles } from '../styles/tables.ts';
import { flagGlyph, flagStyles } from './flag-glyphs.ts';
import { EditEvent } from './events.ts';
import { handler } from './handler-property.ts';
import { knobButtonStyles } from './knob-button-styles.ts';
import { knobToggle } from './value-pair.ts';

/** Numbers of the cell that can have a knob, by their place. */
export type SeenKnobs = Readonly<
  Record<string, { readonly knob: string; readonly title: string; readonly isTurned: boolean }>
>;

/** Faults that are listed before more are asked for. */
const LISTED = 5;
const BAR = 72;

/**
 * From readings back to faults: what was read at the bench is written beside the names of the readings, and every fault is
 * ranked by how well it fits.
 */
export class Seen extends LitElement {
  static override styles = [
    shared,
    tableStyles,
    flagStyles,
    knobButtonStyles,
    css`
      .asks {
        margin-top: 0.9rem;
      }
      .given th,
      .fits th {
        color: var(--ink);
      }
      thead th {
        color: var(--quiet) !important;
      }
      th,
      td {
        padding: 0.25rem 1.2rem 0.25rem 0;
        vertical-align: baseline;
      }
      .wide {
        overflow-x: auto;
        margin-top: 0.9rem;
      }
      .fits td {
        white-space: nowrap;
      }
      .harm {
        white-space: nowrap;
      }
      .near {
        font-weight: 650;
      }
      .off {
        display: inline-block;
        vertical-align: baseline;
        margin-right: 0.5rem;
      }
      @media (max-width: 40rem) {
        .fits thead {
          position: absolute;
          clip-path: inset(50%);
        }
        .fits tr {
          display: flex;
          flex-wrap: wrap;
          gap: 0 0.9rem;
          padding: 0.3rem 0;
          border-bottom: 1px solid var(--line);
        }
        .fits th,
        .fits td {
          padding: 0;
          border: 0;
        }
        .fits th {
          flex: 1 1 70%;
        }
        .fits [data-name]::before {
          content: attr(data-name) ' ';
          color: var(--quiet);
          font-weight: 400;
        }
      }
      .off .gone {
        fill: var(--line);
      }
      .off .fit {
        fill: var(--bar);
      }
    `,
  ];

  @property({ attribute: false }) cell: PageCell | undefined;
  @property({ attribute: false }) result: SymptomsResult | undefined;
  /** What is wrong with a field, by its name. */
  @property({ attribute: false }) complaints: ReadonlyMap<string, string> = new Map();
  /** Called with the fault that the board is to have. */
  @property({ attribute: false }) load: (change: BoardChange) => void = () => undefined;
  @property({ attribute: false, hasChanged: isOtherJson }) knobs: SeenKnobs = {};
  /** Called with a knob that is to be given or taken away. */
  @property(handler) toggle: (knob: string) => void = () => undefined;
  @state() private listsAll = false;

  protected override render(): TemplateResult | typeof nothing {
    const { cell } = this;
    if (cell === undefined) return nothing;
    const take = isRecord(cell.data['take']) ? cell.data['take'] : {};
    return html`<p class="asks">
        What was read at the bench? A value, “none” where there was none, nothing where nobody looked.
      </p>
      <table class="given" aria-label="What was read at the bench">
        <thead>
          <tr>
            <th scope="col">reading</th>
            <th scope="col">at the bench</th>
            <th scope="col">as built</th>
          </tr>
        </thead>
        <tbody>
          ${Object.keys(take).map((name) => this.given(cell, name))}
        </tbody>
      </table>
      ${this.fits()}`;
  }

  private given(cell: PageCell, name: string): TemplateResult {
    const { result } = this;
    const seen = isRecord(cell.data['seen']) ? cell.data['seen'] : {};
    const index = result?.readings.findIndex((reading) => reading.name === name) ?? -1;
    const asBuilt = result?.asBuilt?.[index];
    const raw = seen[name];
    return html`<tr>
      <th scope="row">${name}</th>
      <td>
        <tt-value
          strong
          .text=${typeof raw === 'number' ? String(raw) : written(raw)}
          .label=${`${name} as it was read`}
          .hint=${'not read'}
          .complaint=${this.complaints.get(inside('seen', name))}
          .change=${(typed: string) => this.give(cell, name, typed)}
        ></tt-value>
        ${this.knobOf(inside('seen', name))}
      </td>
      <td class="quiet">${asBuilt === undefined ? '' : readingText(asBuilt, result?.readings[index])}</td>
    </tr>`;
  }

  private knobOf(place: string): TemplateResult | typeof nothing {
    const found = this.knobs[place];
    if (found === undefined) return nothing;
    const { knob, title, isTurned } = found;
    return knobToggle({ words: 'knob', label: `knob for ${title}`, isTurned, toggle: () => this.toggle(knob) });
  }

  /** Writes what was read into the cell; the field goes with the last of it. */
  private give(cell: PageCell, name: string, typed: string): void {
    const others = Object.entries(isRecord(cell.data['seen']) ? cell.data['seen'] : {}).filter(
      ([each]) => each !== name,
    );
    // Counts and ratios are plain numbers; whatever has a unit stays text.
    const value = Number.isFinite(Number(typed)) ? Number(typed) : typed;
    const all = typed === '' ? others : [...others, [name, value] as const];
    const seen = all.length === 0 ? undefined : Object.fromEntries(all);
    const label = typed === '' ? `${name} not read` : `${name} read as ${typed}`;
    this.dispatchEvent(new EditEvent({ path: ['page', cell.index, 'seen'], value: seen, label }));
  }

  private fits(): TemplateResult | typeof nothing {
    const { result } = this;
    const lines = result === undefined ? [] : fitLines(result);
    if (result === undefined || lines.length === 0) return nothing;
    const names = seenReadings(result).map(({ name }) => name);
    const shown = this.listsAll ? lines : lines.slice(0, LISTED);
    return html`<div class="wide" tabindex="0" role="group" aria-label="Faults that fit">
        <p class="quiet">What fits it, the best first; readings that are near stand in bold.</p>
        <table class="fits" aria-label="What fits it, the best first">
          <thead>
            <tr>
              <th scope="col">place</th>
              <th scope="col">fault</th>
              <th scope="col">off by</th>
              ${names.map((name) => html`<th scope="col">${name}</th>`)}
              <th scope="col">the board</th>
            </tr>
          </thead>
          <tbody>
            ${shown.map((line, index) => fit(line, index, names, this.load))}
          </tbody>
        </table>
      </div>
      ${
        lines.length > LISTED
          ? html`<button class="plain" aria-expanded=${String(this.listsAll)} @click=${() => (this.listsAll = !this.listsAll)}>
              ${this.listsAll ? `only the best ${LISTED}` : `all ${lines.length}`}
            </button>`
          : nothing
      }`;
  }
}

function fit(
  { title, off, build, harm, readings, change }: FitLine,
  index: number,
  names: readonly string[],
  load: (change: BoardChange) => void,
): TemplateResult {
  const width = BAR * (1 - off);
  return html`<tr>
    <td>${index + 1}</td>
    <th scope="row">
      ${title}
      ${build ? nothing : html`<span class="small harm" title=${harm}>${flagGlyph('harm')}do not build</span>`}
    </th>
    <td>
      <svg class="off" width=${BAR} height="9" aria-hidden="true">
        <rect class="gone" width="100%" height="9" />
        <rect class="fit" width=${width} height="9" />
      </svg>
      ${percentText(Number((100 * off).toPrecision(2)))}
    </td>
    ${readings.map(
      ({ text, fits }, each) => html`<td class=${fits ? 'near' : 'quiet'} data-name=${names[each] ?? ''}>${text}</td>`,
    )}
    <td>
      ${
        change === undefined
          ? nothing
          : html`<button class="plain" aria-label=${`set to this: ${title}`} @click=${() => load(change)}>
              set to this
            </button>`
      }
    </td>
  </tr>`;
}
