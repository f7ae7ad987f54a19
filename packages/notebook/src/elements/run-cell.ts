import type { CellResult } from '@two-thirds/sim/document';
import { html, type TemplateResult } from 'lit';
import type { Looked } from '../chart/event-rows.ts';
import { boardNames, signalNames } from '../edit/board-names.ts';
import { readingParts } from '../edit/expression-names.ts';
import { isList, isRecord, type Json } from '../edit/json.ts';
import { newReading, renameReading } from '../edit/rename.ts';
import type { DrawingTurns } from '../controllers/drawing-turns.ts';
import type { CellState } from '../runtime/cell-state.ts';
import { boardOf, type PageCell, textField, written } from '../runtime/cells.ts';
import type { Complaint, SortedComplaints } from '../runtime/issues.ts';
import { partShows } from '../runtime/part-shows.ts';
import { cellKnobButtons } from './cell-knob-buttons.ts';
import { EditEvent, type LookEvent } from './events.ts';

/** The element of a cell, as far as what shows one run of a board needs it. */
export interface RunCellHost extends EventTarget {
  readonly document: Json;
  readonly state: CellState | undefined;
  /** What the cell had before the last step of undo. */
  readonly former: CellResult | undefined;
  /** Time of the cursor, seconds. */
  readonly cursor: number | undefined;
  readonly chosenPart: string | undefined;
  /** When what can wait is drawn. */
  readonly turns: DrawingTurns | undefined;
  /** What is looked at of a trace. */
  readonly looked: Looked;
  readonly noteLook: (event: LookEvent) => void;
  /** Complaints about the cell: those about these fields by field, and the others. */
  sorted(fields: readonly string[]): SortedComplaints;
  /** Complaints that stand at no field. */
  others(complaints: readonly Complaint[]): TemplateResult;
  /** Writes a value of the cell. */
  edit(steps: readonly string[], value: Json | undefined, label: string): void;
}

/** A trace with what it shows and how long it looks. */
export function traceContent(host: RunCellHost, cell: PageCell): TemplateResult {
  const shown = host.state?.shown;
  const trace = shown?.kind === 'trace' ? shown : undefined;
  const { atField, others } = host.sorted(['from', 'until', 'show']);
  const show = cell.data['show'];
  return html`${host.others(others)}
    <tt-trace
      .cell=${cell.id}
      .trace=${trace}
      .former=${host.former?.kind === 'trace' && host.former.ok ? host.former : undefined}
      .cursor=${host.cursor}
      .turns=${host.turns}
      .shows=${partShows(host.document, boardOf(cell), host.chosenPart)}
      @tt-look=${host.noteLook}
    ></tt-trace>
    <p class="plan">
      <span>showing</span>
      ${editedField(
        host,
        cell,
        'show',
        isList(show) ? show.map(written).join(', ') : written(show),
        'nets, currents and contacts shown',
        atField,
        (text) => text.split(',').map((each) => each.trim()),
        signalNames(host.document, boardOf(cell)),
      )}
      ${window(host, cell, atField)}
    </p>
    <tt-trace-table .trace=${trace} .looked=${host.looked}></tt-trace-table>`;
}

/** The fates of pulses with the timer that they meet and how long it looks. */
export function fatesContent(host: RunCellHost, cell: PageCell): TemplateResult {
  const shown = host.state?.shown;
  const { atField, others } = host.sorted(['from', 'until', 'timer']);
  return html`${host.others(others)}
    <tt-fates .result=${shown?.kind === 'fates' ? shown : undefined}></tt-fates>
    <p class="plan">
      <span>pulses at</span>
      ${editedField(
        host,
        cell,
        'timer',
        textField(cell.data, 'timer') ?? (shown?.kind === 'fates' ? shown.timer : ''),
        'timer whose pulses are listed',
        atField,
        (text) => text,
        boardNames(host.document, boardOf(cell) ?? '').timers,
      )}
      ${window(host, cell, atField)}
    </p>`;
}

/** Readings with what is read and how long it looks. */
export function readingContent(host: RunCellHost, cell: PageCell): TemplateResult {
  const shown = host.state?.shown;
  const take = isRecord(cell.data['take']) ? cell.data['take'] : {};
  const names = Object.keys(take);
  const { atField, others } = host.sorted(['from', 'until', ...names.map((name) => `take.${name}`)]);
  const complaints = new Map([...atField].map(([field, message]) => [field.replace('take.', ''), message]));
  return html`${host.others(others)}
    <tt-reading
      .result=${shown?.kind === 'reading' ? shown : undefined}
      .take=${Object.fromEntries(names.map((name) => [name, written(take[name])]))}
      .complaints=${complaints}
      .names=${readingParts(host.document, boardOf(cell))}
      .change=${(name: string, text: string) =>
        host.edit(
          ['take', name],
          text === '' ? undefined : text,
          text === '' ? `take out ${name}` : `${name} to ${text}`,
        )}
      .rename=${(name: string, to: string) =>
        host.dispatchEvent(new EditEvent(renameReading(host.document, cell.id, name, to)))}
      .add=${(text: string) => host.edit(['take', newReading(names, text)], text, `add ${text}`)}
    ></tt-reading>
    <p class="plan">${window(host, cell, atField)}</p>`;
}

/** The window a cell looks at, edited in place. */
function window(host: RunCellHost, cell: PageCell, complaints: ReadonlyMap<string, string>): TemplateResult {
  const knobs = cellKnobButtons(host, host.document, cell, ['from', 'until'], complaints);
  return html`<span>from</span>
    <span class="turned">
      ${editedField(host, cell, 'from', written(cell.data['from'] ?? '0 s'), 'start of the window', complaints)}
      ${knobs.get('from')}
    </span>
    <span>until</span>
    <span class="turned">
      ${editedField(host, cell, 'until', written(cell.data['until']), 'end of the window', complaints)}
      ${knobs.get('until')}
    </span>`;
}

function editedField(
  host: RunCellHost,
  cell: PageCell,
  field: string,
  text: string,
  label: string,
  complaints: ReadonlyMap<string, string>,
  read: (text: string) => Json = (typed) => typed,
  names: readonly string[] = [],
): TemplateResult {
  return html`<tt-value
    .text=${text}
    .label=${`${label}, ${cell.id}`}
    .complaint=${complaints.get(field)}
    .names=${names}
    .change=${(typed: string) => host.edit([field], typed === '' ? undefined : read(typed), `${field} to ${typed}`)}
  ></tt-value>`;
}
