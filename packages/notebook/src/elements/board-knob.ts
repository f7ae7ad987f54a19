import { html, nothing, type TemplateResult } from 'lit';
import type { TrayKnob } from '../runtime/tray-knobs.ts';
import { EditEvent } from './events.ts';

/** How a knob stands where it is shown. */
export interface BoardKnobLook {
  /** What it is for screen readers, told apart from the same knob elsewhere. */
  readonly label: string;
  /** In the tray: whether it is the one that a narrow page shows, whether its part is chosen, whether it turns freely. */
  readonly tray?: { readonly isFront: boolean; readonly isChosen: boolean; readonly free: boolean };
}

/** A knob of a board, in the tray or at its part; a turn goes out from `host` as an edit. */
export function boardKnob(host: EventTarget, knob: TrayKnob, { label, tray }: BoardKnobLook): TemplateResult {
  const turn = (text: string, turning: boolean): void => {
    const edit = knob.edit(text, turning);
    if (edit !== undefined) host.dispatchEvent(new EditEvent(edit));
  };
  return html`<tt-knob
    class=${tray?.isFront === true ? 'front' : nothing}
    ?chosen=${tray?.isChosen === true}
    data-knob=${tray === undefined ? nothing : knob.name}
    .name=${knob.short}
    .label=${label}
    .measure=${knob.measure}
    .limitless=${knob.limitless}
    .value=${knob.value}
    .text=${knob.text}
    .nominal=${knob.nominal}
    .complaint=${knob.complaint}
    .bounds=${knob.bounds}
    .free=${tray?.free === true}
    .change=${turn}
  ></tt-knob>`;
}
