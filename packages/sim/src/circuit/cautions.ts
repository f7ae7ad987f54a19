import { formatQuantity } from '../quantity/index.ts';
import { exactText, summedText } from './circuit-view.ts';
import { dangers, ratingText } from './dangers.ts';
import type { Circuit, Part } from './description.ts';
import { FLASHING_HARM } from './flashing.ts';
import { HeldNets } from './held-nets.ts';
import { RESISTOR_RATING } from './part-limits.ts';
import { touchCautions } from './touch-cautions.ts';
import { windingCautions } from './winding-cautions.ts';

/** From here on a capacitor is an electrolytic as a rule (F); common practice, no source. */
const ELECTROLYTIC_FROM = 1e-6;
/** From here on a charged capacitor is worth a caution of its own (F): 7 mJ at 12 V; a judgement, no source. */
const LARGE_FROM = 100e-6;

/** Opens everything that people build or take apart by. */
export const OPENING_CAUTION =
  "Hot or smelling: switch off first. Switch off, discharge large capacitors through a resistor, then exchange a part. Set the supply's current limit, or fit a fuse, before first power.";

const OWN_SUPPLY =
  "Run the board from an isolated supply of its own, never from track power or a transformer's AC output. It is not for real railways, vehicles, alarms, access, medical or fire use.";
/** Where an oscilloscope is clipped to. */
export const GROUND_CLIP =
  "An oscilloscope's ground clip is usually mains earth: clip it only to the 0 V of an isolated supply. Never measure mains circuits with this set-up.";
const FLASHING_LAMPS = `L${FLASHING_HARM.slice(1)}. Whether a lamp does is told with every trace, fates and reading of the board.`;
const PREDICTION = 'A simulation is a prediction, not a safety approval; local codes and licensed practice come first.';

/** What holds for every board that is powered, whatever else there is to say of it: the first two, and the last. */
export const USUAL_CAUTIONS: readonly string[] = [OPENING_CAUTION, OWN_SUPPLY, PREDICTION];

/**
 * Cautions that apply to a circuit as it stands, before any run, each of whole sentences: what holds for every such
 * board, and among it what is wrong with this one, see {@link dangers}. What only a run can tell (currents, dissipation,
 * flashing lamps) is not among them. A rating that is not stated is called "not stated".
 *
 * @param found the circuit's dangers, where they are known already.
 */
export function cautions(circuit: Circuit, found: readonly string[] = dangers(circuit)): string[] {
  const powered = circuit.parts.some((part) => part.kind === 'supply' || part.kind === 'signal');
  const probed = circuit.parts.some((part) => part.kind === 'probe');
  const flashing = circuit.parts.some((part) => part.kind === 'timer') && ofKind(circuit, 'led').length > 0;
  return [
    ...(powered ? [OPENING_CAUTION, OWN_SUPPLY] : []),
    ...found,
    ...touchCautions(circuit),
    ...(probed ? [GROUND_CLIP] : []),
    ...capacitorCautions(circuit),
    ...resistorCautions(circuit, found),
    ...windingCautions(circuit),
    ...(flashing ? [FLASHING_LAMPS] : []),
    PREDICTION,
  ];
}

function capacitorCautions(circuit: Circuit): string[] {
  const capacitors = ofKind(circuit, 'capacitor');
  const electrolytics = capacitors.filter(({ values }) => {
    return values.polarised === true || (values.polarised === undefined && capacitanceOf(values) >= ELECTROLYTIC_FROM);
  });
  const found: string[] = [];
  if (electrolytics.length > 0) {
    const list = electrolytics.map(electrolyticText).join('; ');
    found.push(`Electrolytic capacitors the right way round and inside their voltage rating: ${list}.`);
  }
  const large = capacitors.filter(({ values }) => capacitanceOf(values) >= LARGE_FROM);
  if (large.length > 0) {
    const names = large.map((part) => `${part.name} (${exactText(capacitanceOf(part.values), 'F')})`).join(', ');
    found.push(
      `Large capacitors stay charged after switching off: discharge ${names} through a resistor before touching the circuit.`,
    );
  }
  return found;
}

function electrolyticText({ name, nets, values }: Part): string {
  const polarity = values.polarised === true ? `plus end at ${nets.a}` : 'polarity not stated';
  const rating = values.rating as number | undefined;
  const rated = rating === undefined ? 'rating not stated' : `rated ${exactText(rating, 'V')}`;
  return `${name} (${exactText(capacitanceOf(values), 'F')}, ${polarity}, ${rated})`;
}

/**
 * Resistors that would be beyond their rating with all there is across them.
 *
 * @param told the dangers, which name those that are beyond it as joined.
 */
function resistorCautions(circuit: Circuit, told: readonly string[]): string[] {
  const greatest = new HeldNets(circuit).greatestVoltage();
  const found: string[] = [];
  const unstated: string[] = [];
  for (const { name, values } of ofKind(circuit, 'resistor')) {
    const { resistance, rating } = values as { resistance: number; rating?: number };
    if (rating === undefined) unstated.push(name);
    const most = greatest ** 2 / resistance;
    const isTold = told.some((sentence) => sentence.startsWith(`${name} may turn`));
    if (isTold || resistance === 0 || most <= (rating ?? RESISTOR_RATING)) continue;
    found.push(
      `${name}: with the whole ${summedText(greatest, 'V')} across it, it would turn ${formatQuantity(most, 'W', { digits: 2 })} into heat (${ratingText(rating)}).`,
    );
  }
  if (unstated.length > 0) {
    found.push(
      `Resistors inside their power rating: not stated for ${unstated.join(', ')}; ${RESISTOR_RATING} W is the limit used until stated.`,
    );
  }
  return found;
}

function ofKind(circuit: Circuit, kind: string): Part[] {
  return circuit.parts.filter((part) => part.kind === kind);
}

function capacitanceOf(values: Part['values']): number {
  return values.capacitance as number;
}
