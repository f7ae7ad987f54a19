import { laneTitle } from '@two-thirds/sim/chart';
import type { BoardResult, TraceResult } from '@two-thirds/sim/document';
import { formatQuantity } from '@two-thirds/sim/quantity';
import { html, nothing, type TemplateResult } from 'lit';
import type { CursorState, TimerReadout } from '../chart/cursor.ts';
import { comparatorWords, intervalWords, triggerWords } from '../chart/words.ts';
import { clockText } from '../runtime/live-words.ts';
import type { LampState } from '../schematic/lamps.ts';

/** Whether the discharge switch is closed: it follows an interval's end together with the output, a delay later. */
export function isDischarging({ interval, outputHigh }: TimerReadout): boolean {
  return interval === undefined && !outputHigh;
}

/** The state of a board at an instant as a list of what there is to know, under a title with the time. */
export function atInstant(
  { time, lanes, timers, exact }: CursorState,
  title: string,
  trace: TraceResult | undefined,
  board: BoardResult,
  lamps: readonly LampState[],
): TemplateResult {
  return html`<h2 class="margin-word">
      ${title}, <span class="at as-written">${trace === undefined ? clockText(time) : formatQuantity(time, 's', { digits: 4 })}</span>
    </h2>
    <dl>
      ${lanes.map(
        (lane) =>
          html`<dt>${laneTitle(lane.show)}</dt>
            <dd>${lane.text}</dd>`,
      )}
      ${timers.map((timer) => timerState(timer, time, (trace?.timers ?? timers).length > 1, board))}
      ${exact === undefined ? nothing : board.parts.map(({ name, kind }) => moved(name, kind, exact.active))}
      ${lamps.map(
        ({ part, current, light }) =>
          html`<dt>lamp ${part}</dt>
            <dd>${light > 0 ? `lit, ${formatQuantity(current, 'A')}` : 'dark'}</dd>`,
      )}
    </dl>`;
}

/** What a relay, a solenoid or a buzzer does at an instant. */
function moved(name: string, kind: string, active: readonly string[]): TemplateResult | typeof nothing {
  if (kind !== 'relay' && kind !== 'solenoid' && kind !== 'buzzer') return nothing;
  const isOn = active.includes(name);
  const words = kind === 'buzzer' ? (isOn ? 'sounds' : 'silent') : isOn ? 'pulled in' : 'dropped out';
  return html`<dt>${kind} ${name}</dt>
    <dd>${words}</dd>`;
}

function timerState(timer: TimerReadout, time: number, isNamed: boolean, board: BoardResult): TemplateResult {
  const pins = board.parts.find((part) => part.name === timer.timer)?.nets ?? {};
  const { threshold, trigger, pulse } = timer;
  return html`${isNamed ? html`<dt class="timer">${timer.timer}</dt>` : nothing}
    <dt>interval</dt>
    <dd>${intervalWords(timer, time)}</dd>
    <dt>trigger</dt>
    <dd>
      ${trigger === undefined ? '…' : comparatorWords(trigger, 'trigger')}${
        pulse === undefined ? nothing : html`; ${triggerWords(pulse)}`
      }
    </dd>
    <dt>threshold</dt>
    <dd>${threshold === undefined ? '…' : comparatorWords(threshold, 'threshold')}</dd>
    ${
      pins['discharge'] === undefined
        ? nothing
        : html`<dt>discharge</dt>
            <dd>${isDischarging(timer) ? 'closed' : 'open'}</dd>`
    }
    <dt>output</dt>
    <dd>${timer.outputHigh ? 'high' : 'low'}</dd>`;
}
