import { type CircuitView, exactText, roundedText } from './circuit-view.ts';
import type { Circuit, Part } from './description.ts';
import { GROUND } from './names.ts';

/** Least resistance between a touch plate and the circuit (Ω); the project's rule. */
const PLATE_RESISTANCE = 1e6;
/** Stands for 0 Ω (Ω). */
const LEAST_RESISTANCE = 1e-6;

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
  const plate = finger.nets.a ?? '';
  const direct = circuit.parts.filter((part) => isOn(part, plate) && !standsBetween(part));
  if (direct.length > 0) {
    return [
      `${finger.name}: nothing stands between the plate ${plate} and ${namesOf(direct)}; put a resistor of ${exactText(PLATE_RESISTANCE, 'Ω')} or more between them.`,
    ];
  }
  const resistance = resistanceToRest(circuit, plate);
  // Rounding of several resistors side by side or one after the other.
  if (resistance >= PLATE_RESISTANCE * (1 - 1e-9)) return [];
  const through = circuit.parts.filter((part) => part.kind === 'resistor' && isOn(part, plate));
  return [
    `${finger.name}: only ${roundedText(resistance, 'Ω')} stands between the plate ${plate} and the circuit, by way of ${namesOf(through)}; make it ${exactText(PLATE_RESISTANCE, 'Ω')} or more.`,
  ];
}

/**
 * The resistance (Ω) from a net to everything that is not a resistor, taken together; `Infinity` where nothing is. Nets
 * on which there are only resistors are taken out one by one, each replaced by resistors between its neighbours.
 */
function resistanceToRest(circuit: Circuit, plate: string): number {
  const inside = new Set(
    circuit.nets.filter((net) => circuit.parts.every((part) => !isOn(part, net) || standsBetween(part))),
  );
  const node = (net = ''): string => (inside.has(net) ? net : GROUND);
  const conductances = new Map<string, Map<string, number>>();
  const join = (a: string, b: string, conductance: number): void => {
    if (a === b) return;
    for (const [one, other] of [
      [a, b],
      [b, a],
    ] as const) {
      const known = conductances.get(one) ?? new Map<string, number>();
      known.set(other, (known.get(other) ?? 0) + conductance);
      conductances.set(one, known);
    }
  };
  for (const { kind, nets, values } of circuit.parts) {
    if (kind === 'resistor')
      join(node(nets.a), node(nets.b), 1 / Math.max(values.resistance as number, LEAST_RESISTANCE));
  }
  for (const net of inside) {
    if (net === plate) continue;
    const around = [...(conductances.get(net) ?? [])];
    conductances.delete(net);
    for (const [other] of around) conductances.get(other)?.delete(net);
    const total = around.reduce((sum, [, conductance]) => sum + conductance, 0);
    for (const [index, [a, first]] of around.entries()) {
      for (const [b, second] of around.slice(index + 1)) join(a, b, (first * second) / total);
    }
  }
  return 1 / (conductances.get(plate)?.get(GROUND) ?? 0);
}

function isOn({ nets }: Part, net: string): boolean {
  return Object.values(nets).includes(net);
}

/** Whether a part may be on a plate: another finger, or a resistor, which counts with its resistance. */
function standsBetween({ kind }: Part): boolean {
  return kind === 'finger' || kind === 'resistor';
}

function namesOf(parts: readonly Part[]): string {
  return parts.map(({ name }) => name).join(', ');
}
