import type { Circuit, Part } from './description.ts';

/** Least resistance between a touch plate and the circuit (Ω); the project's rule. */
const PLATE_RESISTANCE = 1e6;

const BATTERY_ONLY =
  'Touch plates only on a battery or another isolated extra-low-voltage supply. While touching, no mains-powered instrument, charger or computer is connected. Never connect plate, body or 0 V to mains earth to improve the response.';
const PLATE_RULE = 'At least 1 MΩ stands between a touch plate and the circuit.';

/** Cautions for circuits that a finger touches; none for others. */
export function touchCautions(circuit: Circuit): string[] {
  const fingers = circuit.parts.filter((part) => part.kind === 'finger');
  if (fingers.length === 0) return [];
  return [
    BATTERY_ONLY,
    ...originCautions(circuit),
    PLATE_RULE,
    ...fingers.flatMap((finger) => plateCautions(circuit, finger)),
  ];
}

function originCautions(circuit: Circuit): string[] {
  const unknown = circuit.parts.filter((part) => part.kind === 'supply' && part.values.origin === 'unknown');
  return unknown.map(({ name }) => `${name}: origin is not stated; a board to be touched needs battery or isolated.`);
}

/** Names what joins the plate to the circuit through less than the resistance asked for. */
function plateCautions(circuit: Circuit, finger: Part): string[] {
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
