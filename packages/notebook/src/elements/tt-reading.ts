import { type ReadingResult, valueText } from '@two-thirds/sim/document';
import { css, html, LitElement, nothing, type TemplateResult } from 'lit';
import { property, state } from 'lit/decorators.js';
import type { OfferedName } from '../edit/expression-names.ts';
import { nameComplaint } from '../edit/rename.ts';
import { shared } from '../styles/shared.ts';

/**
 * Named readings of a run: the value with its unit, or why there is none. Names and what is read are edited in place;
 * a reading whose text is emptied goes, and the empty row at the end takes one more.
 */
export class Reading extends LitElement {
  static override styles = [
    shared,
    css`
      table {
        border-collapse: collapse;
      }
      th,
      td {
        padding: 0.3rem 1.6rem 0.3rem 0;
        text-align: left;
        vertical-align: baseline;
        font-weight: 400;
      }
      tr + tr > * {
        border-top: 1px solid var(--line);
      }
      th {
        font-weight: 650;
      }
      .value {
        font-size: 1.15rem;
        color: var(--rust);
        font-weight: 600;
      }
      td {
        overflow-wrap: anywhere;
      }
      .list {
        font-size: 1rem;
        font-weight: 500;
      }
      .none {
        color: var(--ink);
        font-size: 1rem;
        font-weight: 400;
      }
      @media (max-width: 40rem) {
        tr {
          display: grid;
          grid-template-columns: 1fr auto;
          border-top: 1px solid var(--line);
          padding: 0.2rem 0;
        }
        tr + tr > * {
          border-top: 0;
        }
        th,
        td {
          padding: 0.1rem 0;
        }
        td.asked {
          grid-column: 1 / -1;
        }
        table {
          width: 100%;
        }
      }
    `,
  ];

  @property({ attribute: false }) result: ReadingResult | undefined;
  /** What is read, by name, as it stands in the document. */
  @property({ attribute: false }) take: Readonly<Record<string, string>> = {};
  /** What is wrong with one of them, by name. */
  @property({ attribute: false }) complaints: ReadonlyMap<string, string> = new Map();
  /** Called with the name of a reading and what is to be read. */
  @property({ attribute: false }) change: (name: string, text: string) => void = () => undefined;
  /** Called with the name of a reading and the name it is to have. */
  @property({ attribute: false }) rename: (name: string, to: string) => void = () => undefined;
  /** Called with what one more reading is to read. */
  @property({ attribute: false }) add: (text: string) => void = () => undefined;
  /** Names that may be written into a reading. */
  @property({ attribute: false }) names: readonly OfferedName[] = [];

  /** Why a name that was typed was not given. */
  @state() private nameFault: { readonly name: string; readonly message: string | undefined } | undefined;

  protected override willUpdate(changed: Map<PropertyKey, unknown>): void {
    if (changed.has('take') && !this.hasSameTake(changed.get('take'))) this.nameFault = undefined;
  }

  protected override render(): TemplateResult {
    return html`<table>
      <thead class="unseen">
        <tr>
          <th scope="col">name</th>
          <th scope="col">value</th>
          <th scope="col">what is read</th>
        </tr>
      </thead>
      <tbody>
        ${Object.entries(this.take).map(
          ([name, asked]) =>
            html`<tr>
              <th scope="row">
                <tt-value
                  strong
                  .text=${name}
                  .label=${`name of ${name}`}
                  .complaint=${this.nameFault?.name === name ? this.nameFault.message : undefined}
                  .change=${(to: string) => this.giveName(name, to)}
                ></tt-value>
              </th>
              ${this.valueCell(name)}
              <td class="asked quiet">
                <tt-expression
                  .text=${asked}
                  .label=${`what ${name} reads`}
                  .complaint=${this.complaints.get(name)}
                  .names=${this.names}
                  .change=${(text: string) => this.change(name, text)}
                ></tt-expression>
              </td>
            </tr>`,
        )}
        <tr class="more on-screen">
          <td colspan="3">
            <tt-expression
              .hint=${'one more reading'}
              .label=${'one more reading'}
              .names=${this.names}
              .change=${(text: string) => this.add(text)}
            ></tt-expression>
          </td>
        </tr>
      </tbody>
    </table>`;
  }

  private hasSameTake(before: unknown): boolean {
    return JSON.stringify(before) === JSON.stringify(this.take);
  }

  /** Nothing is overwritten by a name: one that another reading has is refused where it was typed. */
  private giveName(name: string, to: string): void {
    const message = to === name ? undefined : nameComplaint(to, Object.keys(this.take));
    this.nameFault = message === undefined ? undefined : { name, message };
    if (message === undefined && to !== name) this.rename(name, to);
  }

  private valueCell(name: string): TemplateResult {
    const { result } = this;
    const value = result?.values[name];
    if (result === undefined || value === undefined) return html`<td class="value none"></td>`;
    if (value === null) {
      const reason = result.reasons[name];
      return html`<td class="value none">no value${reason === undefined ? nothing : `, because ${reason}`}</td>`;
    }
    const text = valueText(value, result.units[name] ?? null);
    return html`<td class="value ${typeof value === 'number' ? '' : 'list'}">${text}</td>`;
  }
}
