import type { CircuitView } from './circuit-view.ts';
import type { Circuit, Part } from './description.ts';

/** Least resistance between a touch plate and the circuit (Ω); the project's rule. */
const PLATE_RESISTANCE = 1e6;

const BATTERY_ONLY =
  'Touch plates only on a battery or another isolated extra-low-voltage supply. While touching, no mains-powered instrument, charger or computer is connected. Never connect plate, body or 0 V to mains earth to improve the response.';
const PLATE_RULE = 'At least 1 MΩ stands between a touch plate and the circuit.';

/** Cautions for every circuit that a finger touches; none for others. */
export function touchCautions(circuit: Circuit): string[] {
  return circuit.parts.some((part) => part.kind === 'finger') ? [BATTERY_ONLY, PLATE_RULE] : [];
}

/** What is wrong with this circuit for being touched. All its supplies count, wherever they stand. */
export function touchDangers(view: CircuitView): string[] {
  const { circuit } = view;
  const fingers = view.ofKind('finger');
  return fingers.length === 0
    ? []
    : [...originDangers(circuit), ...fingers.flatMap((finger) => plateDangers(circuit, finger))];
}

function originDangers(circuit: Circuit): string[] {
  const unknown = circuit.parts.filter((part) => part.kind === 'supply' && part.values.origin === 'unknown');
  return unknown.map(({ name }) => `${name}: origin is not stated; a board to be touched needs battery or isolated.`);
}

/** Names what joins the plate to the circuit through less than the resistance asked for. */
function plateDangers(circuit: Circuit, finger: Part): string[] {
  const plate = finger.nets.a;
  const direct = circuit.parts.filter((part) => Object.values(part.nets).includes(plate ?? '') && !isSafeOnPlate(part));
  if (direct.length === 0) return [];
  const names = direct.map(({ name }) => name).join(', ');
  return [
    `${finger.name}: less than 1 MΩ stands between the plate ${plate} and ${names}; put a resistor of 1 MΩ or more between them.`,
  ];
}

function isSafeOnPlate(part: Part): boolean {
  if (part.kind === 'finger') return true;
  return part.kind === 'resistor' && (part.values.resistance as number) >= PLATE_RESISTANCE;
}
