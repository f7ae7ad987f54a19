import { cellSvg } from '@two-thirds/sim/chart';
import { cellCsv, type SwapsResult, type SwapsRow } from '@two-thirds/sim/document';
import { html, LitElement, nothing, type PropertyValues, svg, type TemplateResult } from 'lit';
import { property, state } from 'lit/decorators.js';
import { flagCounts, flagsOf, flagWords, isHarmful, type SwapsFlag } from '../chart/swaps-flags.ts';
import {
  type HarmGroup,
  harmGroups,
  spotOf,
  swapsLines,
  type SwapsLine,
  type SwapsOrder,
} from '../chart/swaps-table.ts';
import { pointText, type PointValue } from '../edit/load-point.ts';
import { swapValues } from '../edit/swap-point.ts';
import { cautionLines, cautionStyles } from '../styles/cautions.ts';
import { shared } from '../styles/shared.ts';
import { tableStyles } from '../styles/tables.ts';
import { flagGlyph, flagStyles } from './flag-glyphs.ts';
import type { LaneTool } from './tt-lane-tools.ts';
import { studyStyles } from './study-styles.ts';
import { swapsStyles } from './swaps-styles.ts';

/** Lines on the page at once: a browser is slow with tables of thousands of rows, and so are people. */
const LINES = 40;
/** Kinds of harm that are told before they are asked for. */
const HARMS = 4;
const DIGITS = 4;
const SPOT_WIDTH = 52;

/**
 * Every combination of what a kit lets people plug in: what must not be built first, then the table, ordered by a reading
 * and filtered by what it is told for. A combination goes to the board at a press; one that would do harm does not.
 */
export class Swaps extends LitElement {
  static override styles = [shared, studyStyles, tableStyles, flagStyles, cautionStyles, swapsStyles];

  /** Id of the cell. */
  @property({ attribute: false }) cell = '';
  @property({ attribute: false }) result: SwapsResult | undefined;
  /** What the board has at each place now, as position among its choices; -1 for something else. */
  @property({ attribute: false, hasChanged: (now: unknown, before: unknown) => String(now) !== String(before) })
  now: readonly number[] = [];
  /** Called with the values that the board is to have. */
  @property({ attribute: false }) load: (values: readonly PointValue[]) => void = () => undefined;
  /** Called with the values that a board of its own is to have. */
  @property({ attribute: false }) open: (values: readonly PointValue[]) => void = () => undefined;
  @state() private filter: SwapsFlag | 'all' = 'all';
  @state() private order: SwapsOrder = { reading: 0, isFalling: false };
  /** Position of the first line shown. */
  @state() private first = 0;
  /** Positions of the combinations whose likes are unfolded. */
  @state() private unfolded: ReadonlySet<number> = new Set();
  @state() private allHarms = false;
  private lines: readonly SwapsLine[] = [];
  private counts: ReturnType<typeof flagCounts> = [];
  private groups: readonly HarmGroup[] = [];
  private spots: readonly ((value: number) => number)[] = [];

  protected override willUpdate(changed: PropertyValues): void {
    const { result } = this;
    if (result === undefined) return;
    if (changed.has('result')) {
      this.spots = result.readings.map((_, reading) => spotOf(result, reading));
      this.counts = flagCounts(result);
      this.groups = harmGroups(result);
    }
    if (changed.has('result') || changed.has('filter') || changed.has('order')) {
      if (this.filter !== 'all' && !this.counts.some(({ flag }) => flag === this.filter)) this.filter = 'all';
      this.lines = swapsLines(result, this.filter, this.order);
    }
    if (this.first >= this.lines.length) this.first = 0;
  }

  protected override render(): TemplateResult | typeof nothing {
    const { result } = this;
    if (result === undefined) return nothing;
    return html`${cautionLines(result.cautions)}
      <p class="sentence first">${result.sentence}</p>
      ${this.harms(result)} ${this.filters(result)} ${this.table(result)} ${this.pages()}
      <tt-lane-tools
        .label=${`Copies of ${this.cell}`}
        .offered=${['csv', 'svg'] as const}
        .use=${(tool: LaneTool) => (tool === 'csv' ? cellCsv(this.cell, result)[0]?.text : cellSvg(result))}
      ></tt-lane-tools>`;
  }

  private harms(result: SwapsResult): TemplateResult | typeof nothing {
    const { groups } = this;
    if (groups.length === 0) return nothing;
    const shown = this.allHarms ? groups : groups.slice(0, HARMS);
    return html`<ul class="harms" aria-label="Must not be built">
      ${shown.map(
        ({ sentences, remedy, words, count }) =>
          html`<li>
            <p>
              ${flagGlyph('harm')}<b>Must not be built: ${words}</b>
              <span class="quiet">(${count} of ${result.count})</span>
            </p>
            <p>${sentences.join(' ')}</p>
            <p class="remedy">${remedy ?? 'No single part would prevent it.'}</p>
          </li>`,
      )}
      ${
        groups.length > shown.length
          ? html`<li>
              <button class="plain" @click=${() => (this.allHarms = true)}>${groups.length - shown.length} more of these</button>
            </li>`
          : nothing
      }
    </ul>`;
  }

  private filters(result: SwapsResult): TemplateResult {
    const { counts } = this;
    const harmful = counts.find(({ flag }) => flag === 'harm')?.count ?? 0;
    const all = {
      flag: 'all' as const,
      count: result.rows.length - harmful,
      words: harmful === 0 ? 'all' : 'all others',
    };
    const offered = [all, ...counts.map((each) => ({ ...each, words: flagWords[each.flag] }))];
    return html`<div class="filters" role="group" aria-label="Which combinations are listed">
      ${offered.map(
        ({ flag, count, words }) =>
          html`<button
            aria-pressed=${String(this.filter === flag)}
            @click=${() => {
              this.filter = flag;
              this.first = 0;
            }}
          >${flag === 'all' ? nothing : flagGlyph(flag)}<span class="word">${words}</span> ${count}</button>`,
      )}
    </div>`;
  }

  private table(result: SwapsResult): TemplateResult {
    const { places, readings } = result;
    const shown = this.lines.slice(this.first, this.first + LINES);
    return html`<div class="wide" tabindex="0" role="group" aria-label=${`Combinations of ${this.cell}`}>
      <table>
        <thead>
          <tr>
            <th scope="col" aria-sort=${this.order.reading === undefined ? 'ascending' : 'none'}>
              <button class="sort" title="as listed" @click=${() => this.sort(undefined)}>no.${this.arrow(undefined)}</button>
            </th>
            ${places.map(({ name }) => html`<th scope="col" class="place">${name}</th>`)}
            ${readings.map(
              ({ name, asked }, reading) =>
                html`<th
                  scope="col"
                  colspan="2"
                  aria-sort=${this.order.reading !== reading ? 'none' : this.order.isFalling ? 'descending' : 'ascending'}
                >
                  <button class="sort" title=${asked} @click=${() => this.sort(reading)}>${name}${this.arrow(reading)}</button>
                </th>`,
            )}
            <th scope="col" class="know">what to know</th>
            <th scope="col" class="board">the board</th>
          </tr>
        </thead>
        <tbody>
          ${shown.map((line) => [
            this.row(result, line.index, line.row, line.alike),
            ...(this.unfolded.has(line.index)
              ? line.alike.map((index) => {
                  const row = result.rows[index];
                  return row === undefined ? nothing : this.row(result, index, row, [], true);
                })
              : []),
          ])}
        </tbody>
      </table>
      ${shown.length === 0 ? html`<p class="quiet">Nothing is computed of these yet.</p>` : nothing}
    </div>`;
  }

  private row(
    result: SwapsResult,
    index: number,
    row: SwapsRow,
    alike: readonly number[],
    isAlike = false,
  ): TemplateResult {
    const { places, readings } = result;
    const isNow = row.parts.every((part, place) => places[place]?.choices[this.now[place] ?? -1] === part);
    const mayLoad = !isHarmful(row);
    const values = (): readonly PointValue[] =>
      swapValues(
        places.map(({ name }) => name),
        row.parts,
      );
    const set = (): void => this.load(values());
    return html`<tr
      class=${[isNow ? 'now-row' : '', isAlike ? 'alike' : '', mayLoad ? 'loads' : ''].join(' ')}
      @click=${(event: Event) => {
        if (
          mayLoad &&
          !event.composedPath().some((each) => each instanceof HTMLElement && each.matches('button, details'))
        )
          set();
      }}
    >
      <th scope="row">${index + 1}</th>
      ${row.parts.map((part, place) => html`<td class="place" data-name=${places[place]?.name ?? ''}>${part}</td>`)}
      ${row.values.map((value, reading) => {
        const unit = readings[reading]?.unit ?? null;
        if (value === null)
          return html`<td class="quiet none" colspan="2" data-name=${readings[reading]?.name ?? ''} title=${row.reasons[String(reading)] ?? ''}>none</td>`;
        return html`<td class="number" data-name=${readings[reading]?.name ?? ''}>${pointText(value, unit, DIGITS)}</td>
          <td>${this.spot(reading, value)}</td>`;
      })}
      <td class="know">${this.know(row, index, alike, isAlike)}</td>
      <td>
        ${
          isNow
            ? html`<span class="on-board">as it stands</span>`
            : mayLoad
              ? html`<button class="plain on-screen" aria-label=${`set to this: combination ${index + 1}`} @click=${set}>
                  set to this
                </button>
                <button
                  class="plain on-screen"
                  aria-label=${`open as a board of its own: combination ${index + 1}`}
                  @click=${() => this.open(values())}
                >
                  open
                </button>`
              : html`<span class="quiet">not offered</span>`
        }
      </td>
    </tr>`;
  }

  private know(row: SwapsRow, index: number, alike: readonly number[], isAlike: boolean): TemplateResult {
    const told = flagsOf(row).filter((flag) => flag !== 'fine' && flag !== 'same');
    const sentences = [...row.flags.map(({ sentence }) => sentence), ...(row.failed === null ? [] : [row.failed])];
    const isOpen = this.unfolded.has(index);
    return html`${
      told.length === 0
        ? nothing
        : html`<details class="on-paper">
              <summary>${told.map((flag) => html`<span>${flagGlyph(flag)}${flagWords[flag]}</span>`)}</summary>
              ${[...sentences, ...(row.remedy === null ? [] : [row.remedy])].map(
                (sentence) => html`<p class="said">${sentence}</p>`,
              )}
            </details>`
    }
      ${
        row.sameAs === null
          ? nothing
          : html`<p>${flagGlyph('same')}looks like ${row.sameAs + 1}${isAlike ? nothing : ', by every reading'}</p>`
      }
      ${
        alike.length === 0
          ? nothing
          : html`<button class="plain" aria-expanded=${String(isOpen)} @click=${() => this.fold(index)}>
              ${flagGlyph('same')}${alike.length} more like it
            </button>`
      }`;
  }

  private spot(reading: number, value: number): TemplateResult {
    const x = 3 + (this.spots[reading]?.(value) ?? 0.5) * (SPOT_WIDTH - 6);
    return html`<svg class="spot" width=${SPOT_WIDTH} height="8" aria-hidden="true">
      ${svg`<line x1="0" x2=${SPOT_WIDTH} y1="4" y2="4" /><circle cx=${x} cy="4" r="3" />`}
    </svg>`;
  }

  private pages(): TemplateResult | typeof nothing {
    const count = this.lines.length;
    if (count <= LINES) return nothing;
    const { first } = this;
    const last = Math.floor((count - 1) / LINES) * LINES;
    const step = (words: string, to: number): TemplateResult =>
      html`<button aria-disabled=${String(to === first)} @click=${() => (this.first = to)}>${words}</button>`;
    return html`<p class="pages" role="group" aria-label="Part of the list">
      <span role="status">${first + 1} to ${Math.min(count, first + LINES)} of ${count}</span>
      ${step('first', 0)} ${step('earlier', Math.max(0, first - LINES))} ${step('later', Math.min(last, first + LINES))}
      ${step('last', last)}
    </p>`;
  }

  private arrow(reading: number | undefined): TemplateResult | typeof nothing {
    if (this.order.reading !== reading) return nothing;
    const path = this.order.isFalling ? 'M1 2.5h8L5 8z' : 'M1 7.5h8L5 2z';
    return html`<svg class="arrow" viewBox="0 0 10 10" aria-hidden="true">${svg`<path d=${path} />`}</svg>`;
  }

  private sort(reading: number | undefined): void {
    const isFalling = reading !== undefined && this.order.reading === reading && !this.order.isFalling;
    this.order = { reading, isFalling };
    this.first = 0;
  }

  private fold(index: number): void {
    const others = [...this.unfolded].filter((each) => each !== index);
    this.unfolded = new Set(this.unfolded.has(index) ? others : [...others, index]);
  }
}
