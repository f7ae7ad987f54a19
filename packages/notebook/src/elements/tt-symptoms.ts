import { cellSvg } from '@two-thirds/sim/chart';
import { cellCsv, type SymptomsFault, type SymptomsResult } from '@two-thirds/sim/document';
import { css, html, LitElement, nothing, type TemplateResult } from 'lit';
import { property, state } from 'lit/decorators.js';
import { readingText, type SymptomLook, symptomLooks, symptomsTables } from '../chart/symptoms-table.ts';
import type { BoardChange } from '../edit/board-change.ts';
import { isOtherJson } from '../edit/json.ts';
import type { PageCell } from '../runtime/cells.ts';
import { cautionLines, cautionStyles } from '../styles/cautions.ts';
import { choiceStyles } from '../styles/choices.ts';
import { shared } from '../styles/shared.ts';
import { tableStyles } from '../styles/tables.ts';
import { flagGlyph, flagStyles } from './flag-glyphs.ts';
import { handler } from './handler-property.ts';
import type { LaneTool } from './tt-lane-tools.ts';
import { studyStyles } from './study-styles.ts';
import type { SeenKnobs } from './tt-seen.ts';

/** Faults of one look that are named before more are asked for. */
const NAMED = 6;

/**
 * Every single fault of a board by what one would see of it: what looks alike stands together, with the one reading that
 * tells it apart; and from what was read back to the faults that fit.
 */
export class Symptoms extends LitElement {
  static override styles = [
    shared,
    studyStyles,
    tableStyles,
    cautionStyles,
    choiceStyles,
    flagStyles,
    css`
      .sentence.first {
        margin-top: 0;
      }
      h3 {
        margin: 1.4rem 0 0.2rem;
        font-size: 1rem;
        font-weight: 650;
      }
      .chosen {
        color: var(--quiet);
        font-size: 0.9375rem;
      }
      ul {
        list-style: none;
        padding: 0;
      }
      .looks {
        margin-top: 0.3rem;
        width: 100%;
      }
      .looks th,
      .looks td {
        padding: 0.22rem 1.3rem 0.22rem 0;
        vertical-align: baseline;
      }
      .looks .value {
        white-space: nowrap;
        font-weight: 600;
      }
      .looks .faults {
        width: 100%;
        padding-right: 0;
      }
      .looks li {
        padding-left: 1rem;
        text-indent: -1rem;
      }
      .harm {
        white-space: nowrap;
        color: var(--quiet);
        font-size: var(--small);
      }
      .faults button.plain {
        min-height: 0;
        padding-block: 0.1rem;
        text-align: start;
      }
      .more {
        display: block;
        margin: 0.15rem 0 0.4rem;
        padding-left: 0.8rem;
        border-left: 2px solid var(--line);
        text-indent: 0;
        font-size: 0.9375rem;
      }
      .never li {
        margin-top: 0.25rem;
        max-width: 68ch;
        font-size: 0.9375rem;
      }
      @media (max-width: 40rem) {
        .looks thead {
          position: absolute;
          clip-path: inset(50%);
        }
        .looks tr {
          display: flex;
          flex-wrap: wrap;
          gap: 0 1.2rem;
          padding: 0.35rem 0;
          border-bottom: 1px solid var(--line);
        }
        .looks td {
          padding: 0;
          border: 0;
        }
        .between {
          display: none;
        }
        .faults button.plain {
          display: block;
        }
        .looks .value::before {
          content: attr(data-name) ' ';
          color: var(--quiet);
          font-weight: 400;
        }
      }
    `,
  ];

  @property({ attribute: false }) cell: PageCell | undefined;
  @property({ attribute: false }) result: SymptomsResult | undefined;
  /** What is wrong with a field, by its name. */
  @property({ attribute: false }) complaints: ReadonlyMap<string, string> = new Map();
  /** Called with the fault that the board is to have. */
  @property({ attribute: false }) load: (change: BoardChange) => void = () => undefined;
  /** Called with the fault that a board of its own is to have. */
  @property({ attribute: false }) open: (change: BoardChange) => void = () => undefined;
  /** Knobs of what was seen, and what gives or takes them. */
  @property({ attribute: false, hasChanged: isOtherJson }) knobs: SeenKnobs = {};
  @property(handler) toggle: (knob: string) => void = () => undefined;
  /** The title of the fault that is told more of. */
  @state() private chosen = '';
  /** The part whose faults are listed; empty for all. */
  @state() private ofPart = '';
  @state() private isForBuilding = false;
  /** Positions of looks of which all faults are named. */
  @state() private opened: ReadonlySet<string> = new Set();

  protected override render(): TemplateResult | typeof nothing {
    const { cell, result } = this;
    if (cell === undefined) return nothing;
    const seen = html`<tt-seen .cell=${cell} .result=${result} .complaints=${this.complaints} .load=${this.load} .knobs=${this.knobs} .toggle=${this.toggle}></tt-seen>`;
    if (result === undefined) return seen;
    return html`${cautionLines(result.cautions)}
      <p class="sentence first">${result.sentence}</p>
      ${seen}
      <h3>Every single fault, by what one would see of it</h3>
      ${this.choices(result)} ${this.looks(result)} ${this.never(result)}
      <tt-lane-tools
        .label=${`Copies of ${cell.id}`}
        .offered=${['csv', 'svg'] as const}
        .use=${(tool: LaneTool) => (tool === 'csv' ? cellCsv(cell.id, result)[0]?.text : cellSvg(result))}
      ></tt-lane-tools>
      <tt-data-tables .label=${`Faults of ${cell.id}`} .tables=${() => symptomsTables(result)}></tt-data-tables>`;
  }

  private choices({ rows }: SymptomsResult): TemplateResult {
    const parts = [...new Set(rows.map(({ part }) => part))];
    return html`<p class="chosen">
      Showing those of
      <select
        aria-label="part whose faults are shown"
        @change=${(event: Event) => (this.ofPart = (event.target as HTMLSelectElement).value)}
      >
        <option value="" .selected=${this.ofPart === ''}>every part</option>
        ${parts.map((part) => html`<option value=${part} .selected=${this.ofPart === part}>${part}</option>`)}
      </select>
      <select
        aria-label="whether they may be built"
        @change=${(event: Event) => (this.isForBuilding = (event.target as HTMLSelectElement).value === 'build')}
      >
        <option value="" .selected=${!this.isForBuilding}>whether or not they may be built</option>
        <option value="build" .selected=${this.isForBuilding}>that may be built for others to find</option>
      </select>
    </p>`;
  }

  private looks(result: SymptomsResult): TemplateResult {
    const { ofPart, isForBuilding } = this;
    const wanted = (fault: SymptomsFault): boolean => !isForBuilding || fault.build;
    const looks = symptomLooks(result).filter(({ faults }) =>
      faults.some((fault) => wanted(fault) && (ofPart === '' || fault.part === ofPart)),
    );
    if (looks.length === 0) return html`<p class="quiet">Nothing of these is computed yet, or there is none.</p>`;
    return html`<table class="looks">
      <thead>
        <tr>
          ${result.readings.map(({ name, asked }) => html`<th scope="col" title=${asked}>${name}</th>`)}
          <th scope="col">what may be wrong</th>
        </tr>
      </thead>
      <tbody>
        ${looks.map((each) => this.look(result, each, wanted))}
      </tbody>
    </table>`;
  }

  private look(
    { readings }: SymptomsResult,
    each: SymptomLook,
    wanted: (fault: SymptomsFault) => boolean,
  ): TemplateResult {
    const { values, reasons, apart, faults, isHealthy } = each;
    const isGroup = faults.length + Number(isHealthy) > 1;
    return html`<tr>
      ${readings.map(
        (reading, index) =>
          html`<td class="value" data-name=${reading.name} title=${reasons[String(index)] ?? nothing}>
            ${readingText(values[index] ?? null, reading)}
          </td>`,
      )}
      <td class="faults">
        ${isHealthy ? html`<p class="small quiet">Nobody would see these: every reading is as built.</p>` : nothing}
        ${
          isGroup && apart !== null
            ? html`<p class="quiet">Measure <b>${apart.reading}</b> to tell them apart:</p>
                <ul>
                  ${apart.parts.map(
                    ({ value, faults: those, hasHealthy }) =>
                      html`<li>
                        <b>${value}</b> ${this.named(`${keyOf(each)} ${value}`, those.filter(wanted), hasHealthy)}
                      </li>`,
                  )}
                </ul>`
            : html`<p>${this.named(keyOf(each), faults.filter(wanted), false)}</p>
                ${
                  isGroup
                    ? html`<p class="small quiet">No further voltage or supply current tells these apart.</p>`
                    : nothing
                }`
        }
      </td>
    </tr>`;
  }

  /** Faults by name, the first few of many until all are asked for. */
  private named(key: string, faults: readonly SymptomsFault[], hasHealthy: boolean): TemplateResult {
    const all = this.opened.has(key) || faults.length <= NAMED + 1;
    const shown = all ? faults : faults.slice(0, NAMED);
    const words = [...(hasHealthy ? [html`as built`] : []), ...shown.map((fault) => this.faultWords(fault))];
    return html`${words.map((each, index) => (index === 0 ? each : html`<span class="quiet between">; </span>${each}`))}${
      all
        ? nothing
        : html`<span class="quiet between">; </span>
            <button class="plain" @click=${() => (this.opened = new Set([...this.opened, key]))}>
              and ${faults.length - NAMED} more
            </button>`
    }`;
  }

  /** A fault by its title: one that may be built is told more of at a press, and put on the board. */
  private faultWords({ title, build, seen, change }: SymptomsFault): TemplateResult {
    if (!build) return html`${title} <span class="harm">${flagGlyph('harm')}do not build</span>`;
    const isChosen = this.chosen === title;
    const put = { fault: change, title };
    return html`<button
        class="plain"
        aria-expanded=${String(isChosen)}
        @click=${() => (this.chosen = isChosen ? '' : title)}
      >${title}</button>${
        isChosen
          ? html`<span class="more"
              >${seen}
              <button class="plain" aria-label=${`set the board to it: ${title}`} @click=${() => this.load(put)}>
                set the board to it
              </button>
              <button class="plain" aria-label=${`open it as a board of its own: ${title}`} @click=${() => this.open(put)}>
                open it as a board of its own
              </button></span
            >`
          : nothing
      }`;
  }

  private never({ rows }: SymptomsResult): TemplateResult | typeof nothing {
    const harmful = rows.filter(({ build }) => !build);
    if (harmful.length === 0) return nothing;
    return html`<details class="never on-paper">
      <summary class="small">${harmful.length} that must not be built, and why</summary>
      <ul>
        ${harmful.map(
          ({ title, harms, seen }) => html`<li><b>${title}.</b> ${harms.length === 0 ? seen : harms.join(' ')}</li>`,
        )}
      </ul>
    </details>`;
  }
}

function keyOf({ faults }: SymptomLook): string {
  return faults[0]?.title ?? '';
}
