import { readQuantity, type Unit } from '@two-thirds/sim/quantity';
import { terminalNets } from './board-names.ts';
import { isList, isRecord, type Json, type JsonRecord } from './json.ts';

/** Periods of an input that a new cell shows: enough for a divided output to repeat, few enough to tell them apart. */
const PERIODS_SHOWN = 14;
/** Charging times that a board without inputs is shown for: several periods of an astable. */
const CHARGES_SHOWN = 12;
/** Round ends of a window: these digits, times a power of ten. */
const ROUND = [1, 1.5, 2, 3, 4, 5, 6, 8, 10];

/**
 * How long a new cell looks at a board, as text such as `6 s`: until everything that is done to the board is over and
 * its slowest capacitor has charged, or for some periods of what drives it. A guess that computes at once; people
 * change it.
 */
export function startingWindow(parts: readonly JsonRecord[]): string {
  const charge = slowestCharge(parts);
  const periods = parts.map((part) => periodOf(part['wave'])).filter((period) => period > 0);
  const acts = parts.flatMap((part) => [...ends(part['presses']), ...ends(part['touches'])]);
  let seconds = CHARGES_SHOWN * charge;
  if (periods.length > 0) seconds = Math.max(PERIODS_SHOWN * Math.max(...periods), 3 * charge);
  else if (acts.length > 0) seconds = Math.max(...acts) + 1.3 * charge;
  return seconds > 0 && Number.isFinite(seconds) ? roundText(seconds) : '1 s';
}

/** The longest product of a resistance and a capacitance that share a net other than the supply's, times 1.1. */
function slowestCharge(parts: readonly JsonRecord[]): number {
  const rails = new Set(['ground', ...parts.filter((part) => part['kind'] === 'supply').flatMap(netsOf)]);
  const inner = (part: JsonRecord): string[] => netsOf(part).filter((net) => !rails.has(net));
  const timing = new Set(
    parts
      .filter((part) => part['kind'] === 'timer')
      .map((part) => terminalNets(part)['threshold'] ?? '')
      .filter((net) => net !== ''),
  );
  const resistors = parts.filter((part) => part['kind'] === 'resistor' || part['kind'] === 'pot');
  return Math.max(
    0,
    ...parts
      .filter((part) => part['kind'] === 'capacitor' && inner(part).some((net) => timing.has(net)))
      .flatMap((capacitor) =>
        resistors
          .filter((resistor) => inner(resistor).some((net) => inner(capacitor).includes(net)))
          .map((resistor) => 1.1 * quantity(resistor['resistance'], 'Ω') * quantity(capacitor['capacitance'], 'F')),
      ),
  );
}

function netsOf(part: JsonRecord): string[] {
  return Object.values(terminalNets(part));
}

function periodOf(wave: Json | undefined): number {
  if (!isRecord(wave)) return 0;
  const frequency = quantity(wave['frequency'], 'Hz');
  return quantity(wave['period'], 's') || (frequency > 0 ? 1 / frequency : 0);
}

function ends(acts: Json | undefined): number[] {
  if (!isList(acts)) return [];
  return acts.filter(isRecord).map((act) => quantity(act['at'], 's') + quantity(act['for'], 's'));
}

function quantity(value: Json | undefined, unit: Unit): number {
  const read = value === undefined ? undefined : readQuantity(value, unit);
  return read?.ok === true && Number.isFinite(read.value) ? read.value : 0;
}

/** The next round time that is not shorter, in seconds, milliseconds or microseconds. */
function roundText(seconds: number): string {
  const decade = Math.floor(Math.log10(seconds));
  const digits = ROUND.find((each) => each * 10 ** decade >= seconds * (1 - 1e-9)) ?? 10;
  const [scale, unit] = seconds >= 0.9 ? [0, 's'] : seconds >= 0.9e-3 ? [3, 'ms'] : [6, 'µs'];
  return `${Number((digits * 10 ** (decade + scale)).toPrecision(3))} ${unit}`;
}
