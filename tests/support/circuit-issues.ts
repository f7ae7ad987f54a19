import { checkCircuit } from '#sim/circuit/check-circuit.ts';
import type { Circuit, Part } from '#sim/circuit/description.ts';
import { standardKinds } from '#sim/device/standard-kinds.ts';

/** Text with every thin space (between value and unit) as an ordinary one, so that tests can be read. */
export function plain(text: string): string {
  return text.replaceAll('\u202f', ' ');
}

/** The messages for a parts list, in order; warnings begin with `warning: `. */
export function messagesOf(parts: unknown): string[] {
  return checkCircuit({ parts }, standardKinds).issues.map(({ severity, message }) =>
    plain(severity === 'warning' ? `warning: ${message}` : message),
  );
}

/** A supply, a 1 kΩ load and what else is given: a circuit in which nothing else is wrong. */
export function besideLoad(...parts: unknown[]): unknown[] {
  return [
    { name: 'BT1', kind: 'supply', plus: 'rail', minus: 'ground', voltage: '6 V', resistance: '1 Ω' },
    { name: 'RL', kind: 'resistor', a: 'rail', b: 'ground', resistance: '1 kΩ' },
    ...parts,
  ];
}

/** The checked circuit of a parts list that has no fault. */
export function circuitOf(parts: unknown): Circuit {
  const { circuit, issues } = checkCircuit({ parts }, standardKinds);
  if (circuit === undefined) throw new Error(issues.map(({ message }) => message).join('\n'));
  return circuit;
}

/** One part of a checked circuit. */
export function partOf(circuit: Circuit, name: string): Part {
  const part = circuit.parts.find((each) => each.name === name);
  if (part === undefined) throw new Error(`no part ${name}`);
  return part;
}
