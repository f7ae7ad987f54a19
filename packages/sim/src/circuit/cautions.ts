import { formatQuantity, type Unit } from '../quantity/index.ts';
import type { Circuit, Part } from './description.ts';
import { LimitingPaths } from './limiting-path.ts';
import { greatestVoltage, sourceVoltages } from './source-voltages.ts';
import { touchCautions } from './touch-cautions.ts';

/** From here on a capacitor is an electrolytic as a rule (F); common practice, no source. */
const ELECTROLYTIC_FROM = 1e-6;
/** From here on a charged capacitor is worth a caution of its own (F): 7 mJ at 12 V; a judgement, no source. */
const LARGE_FROM = 100e-6;
/** Power a resistor is taken to bear until stated (W). */
const RESISTOR_RATING = 0.25;
/** Highest direct voltage that may be touched without protection (V): IEC 60335-1, 3.4.2, at second hand. */
const TOUCHABLE = 60;

/** Opens everything that people build or take apart by. */
export const OPENING_CAUTION =
  "Hot or smelling: switch off first. Switch off, discharge large capacitors through a resistor, then exchange a part. Set the supply's current limit, or fit a fuse, before first power.";

const OWN_SUPPLY =
  "Run the board from an isolated supply of its own, never from track power or a transformer's AC output. It is not for real railways, vehicles, alarms, access, medical or fire use.";
const GROUND_CLIP =
  "An oscilloscope's ground clip is usually mains earth: clip it only to the 0 V of an isolated supply. Never measure mains circuits with this set-up.";
const PREDICTION = 'A simulation is a prediction, not a safety approval; local codes and licensed practice come first.';

/**
 * Cautions that apply to a circuit as it stands, before any run, each of whole sentences. What only a run can tell
 * (currents, dissipation, flashing lamps) is not among them. A rating that is not stated is called "not stated".
 */
export function cautions(circuit: Circuit): string[] {
  const powered = circuit.parts.some((part) => part.kind === 'supply' || part.kind === 'signal');
  const probed = circuit.parts.some((part) => part.kind === 'probe');
  return [
    ...(powered ? [OPENING_CAUTION, OWN_SUPPLY] : []),
    ...voltageCautions(circuit),
    ...touchCautions(circuit),
    ...(probed ? [GROUND_CLIP] : []),
    ...timerSupplyCautions(circuit),
    ...capacitorCautions(circuit),
    ...ledCautions(circuit),
    ...resistorCautions(circuit),
    PREDICTION,
  ];
}

function voltageCautions(circuit: Circuit): string[] {
  const greatest = greatestVoltage(circuit);
  if (greatest <= TOUCHABLE) return [];
  return [
    `Up to ${text(greatest, 'V')} is more than the ${TOUCHABLE} V that may be touched: hand-held boards stay at extra-low voltage.`,
  ];
}

function timerSupplyCautions(circuit: Circuit): string[] {
  const voltages = sourceVoltages(circuit);
  return ofKind(circuit, 'timer').flatMap((part) => {
    const plus = voltages.get(part.nets.supply ?? '');
    const minus = voltages.get(part.nets.ground ?? '');
    if (plus === undefined || minus === undefined) return [];
    const { supplyMinimum = 0, supplyMaximum = Number.POSITIVE_INFINITY } = part.values.parameters as Partial<
      Record<string, number>
    >;
    const made = `a timer of the family ${String(part.values.family)}`;
    const [low, high] = [plus.low - minus.high, plus.high - minus.low];
    const found: string[] = [];
    if (high > supplyMaximum) {
      found.push(
        `${part.name}: the supply reaches ${text(high, 'V')}, above the ${text(supplyMaximum, 'V')} that ${made} bears.`,
      );
    }
    if (low < 0) found.push(`${part.name}: the supply is reversed, which destroys a timer.`);
    else if (low < supplyMinimum) {
      found.push(
        `${part.name}: the supply is as low as ${text(low, 'V')}, below the ${text(supplyMinimum, 'V')} that ${made} needs.`,
      );
    }
    return found;
  });
}

function capacitorCautions(circuit: Circuit): string[] {
  const greatest = greatestVoltage(circuit);
  const capacitors = ofKind(circuit, 'capacitor');
  const electrolytics = capacitors.filter(({ values }) => {
    return values.polarised === true || (values.polarised === undefined && capacitanceOf(values) >= ELECTROLYTIC_FROM);
  });
  const found: string[] = [];
  if (electrolytics.length > 0) {
    const list = electrolytics.map(electrolyticText).join('; ');
    found.push(`Electrolytic capacitors the right way round and inside their voltage rating: ${list}.`);
  }
  for (const { name, values } of capacitors) {
    const rating = values.rating as number | undefined;
    if (rating !== undefined && rating < greatest) {
      found.push(`${name}: the rating of ${text(rating, 'V')} is below the ${text(greatest, 'V')} of the supply.`);
    }
  }
  const large = capacitors.filter(({ values }) => capacitanceOf(values) >= LARGE_FROM);
  if (large.length > 0) {
    const names = large.map((part) => `${part.name} (${text(capacitanceOf(part.values), 'F')})`).join(', ');
    found.push(
      `Large capacitors stay charged after switching off: discharge ${names} through a resistor before touching the circuit.`,
    );
  }
  return found;
}

function electrolyticText({ name, nets, values }: Part): string {
  const polarity = values.polarised === true ? `plus end at ${nets.a}` : 'polarity not stated';
  const rating = values.rating as number | undefined;
  const rated = rating === undefined ? 'rating not stated' : `rated ${text(rating, 'V')}`;
  return `${name} (${text(capacitanceOf(values), 'F')}, ${polarity}, ${rated})`;
}

function ledCautions(circuit: Circuit): string[] {
  const greatest = greatestVoltage(circuit);
  const paths = new LimitingPaths(circuit);
  return ofKind(circuit, 'led').flatMap((part) => {
    const limit = part.values.limit as number;
    const path = paths.overLimit(part, limit, greatest);
    if (path === undefined) return [];
    const current = (greatest - path.drop) / path.resistance;
    return [
      `${part.name}: an LED always needs a current-limiting path; as joined here up to ${formatQuantity(current, 'A', { digits: 2 })} may flow, above the limit of ${text(limit, 'A')} (20 mA unless stated).`,
    ];
  });
}

function resistorCautions(circuit: Circuit): string[] {
  const greatest = greatestVoltage(circuit);
  const found: string[] = [];
  const unstated: string[] = [];
  for (const { name, values } of ofKind(circuit, 'resistor')) {
    const resistance = values.resistance as number;
    const rating = values.rating as number | undefined;
    if (rating === undefined) unstated.push(name);
    const most = greatest ** 2 / resistance;
    if (resistance === 0 || most <= (rating ?? RESISTOR_RATING)) continue;
    const rated = rating === undefined ? `rating not stated, ${RESISTOR_RATING} W used` : `rated ${text(rating, 'W')}`;
    found.push(
      `${name}: with the whole ${text(greatest, 'V')} across it, it would turn ${formatQuantity(most, 'W', { digits: 2 })} into heat (${rated}).`,
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

function text(value: number, unit: Unit): string {
  return formatQuantity(value, unit, { exact: true });
}
