import { canTurnFreely, FAR_TURN, freeTurn } from '../edit/free-turn.ts';
import { knobReach } from '../edit/knob-reach.ts';
import { knobScale } from '../edit/knob-scale.ts';
import type { History } from '../edit/history.ts';
import { isSameJson, type Json } from '../edit/json.ts';
import { writtenMeasure } from '../edit/measure.ts';
import { withValue } from '../edit/path.ts';
import type { TrayKnob } from './tray-knobs.ts';

/**
 * The documents that come next, where the last edit is a turn of a knob that may go on: the same knob as far again, and
 * as far back, along its resting values or freely where it stands beside them. None where no knob is being turned.
 *
 * @param knobs the knobs of the document as it is.
 * @param before the knobs as they were before the last edit: they tell how far one key turns.
 */
export function nextTurns(
  { document, past }: History,
  knobs: readonly TrayKnob[],
  before: readonly TrayKnob[],
): Json[] {
  const joins = past.at(-1)?.joins;
  if (joins === undefined) return [];
  const isTurned = (each: TrayKnob): boolean => each.edit(each.text, true)?.joins === joins;
  const knob = knobs.find(isTurned);
  if (knob?.value === undefined) return [];
  const { value, measure, limitless, bounds } = knob;
  const nominal = knob.nominal ?? value;
  const scale = knobScale(measure, nominal, bounds);
  const { least, greatest } = knobReach(scale, nominal, value);
  const isFree = canTurnFreely(measure, value) && scale.snap(value) !== value;
  const turned = (from: number, turns: number): number =>
    isFree ? freeTurn(scale, from, turns) : scale.step(from, turns);
  const former = before.find(isTurned)?.value;
  const isTurn = (size: number): boolean =>
    former !== undefined && [size, -size].some((turns) => turned(former, turns) === value);
  const size = [1, FAR_TURN].find(isTurn) ?? 1;
  return [size, -size].flatMap((turns) => {
    const next = Math.min(greatest, Math.max(least, turned(value, turns)));
    const edit = next === value ? undefined : knob.edit(writtenMeasure(next, measure, limitless), true);
    const after = edit === undefined ? document : withValue(document, edit.path, edit.value);
    return isSameJson(after, document) ? [] : [after];
  });
}
