import { canTurnFreely, freeTurn } from '../edit/free-turn.ts';
import { knobReach } from '../edit/knob-reach.ts';
import { knobScale } from '../edit/knob-scale.ts';
import type { History } from '../edit/history.ts';
import { isSameJson, type Json } from '../edit/json.ts';
import { writtenMeasure } from '../edit/measure.ts';
import { withValue } from '../edit/path.ts';
import type { TrayKnob } from './tray-knobs.ts';

/**
 * The documents that come next, where the last edit is a turn of a knob that may go on: the same knob one resting value
 * further, and one back; by a little where it stands beside its resting values. None where no knob is being turned.
 *
 * @param knobs the knobs of the document as it is.
 */
export function nextTurns({ document, past }: History, knobs: readonly TrayKnob[]): Json[] {
  const joins = past.at(-1)?.joins;
  if (joins === undefined) return [];
  const knob = knobs.find((each) => each.edit(each.text, true)?.joins === joins);
  if (knob?.value === undefined) return [];
  const { value, measure, limitless, bounds } = knob;
  const nominal = knob.nominal ?? value;
  const scale = knobScale(measure, nominal, bounds);
  const { least, greatest } = knobReach(scale, nominal, value);
  const isFree = canTurnFreely(measure, value) && scale.snap(value) !== value;
  return [1, -1].flatMap((turn) => {
    const turnedTo = isFree ? freeTurn(scale, value, turn) : scale.step(value, turn);
    const next = Math.min(greatest, Math.max(least, turnedTo));
    const edit = next === value ? undefined : knob.edit(writtenMeasure(next, measure, limitless), true);
    const turned = edit === undefined ? document : withValue(document, edit.path, edit.value);
    return isSameJson(turned, document) ? [] : [turned];
  });
}
