import { hasKnob, toggleKnob } from '../edit/knob-toggle.ts';
import type { Json } from '../edit/json.ts';
import type { PageCell } from '../runtime/cells.ts';
import { EditEvent } from './events.ts';
import type { KnobLook } from './value-pair.ts';

/** The knobs of a board cell; what is toggled goes out from `host` as an edit. */
export function knobLook(host: EventTarget, document: Json, { index }: PageCell): KnobLook {
  return {
    has: ({ place }) => hasKnob(document, index, place),
    toggle: ({ place }) => host.dispatchEvent(new EditEvent(toggleKnob(document, index, place))),
  };
}
