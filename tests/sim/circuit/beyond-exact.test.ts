import { checkCircuit } from '#sim/circuit/check-circuit.ts';
import { standardKinds } from '#sim/device/standard-kinds.ts';
import { expect, test } from 'vitest';
import { plain } from '../../support/circuit-issues.ts';

function messagesOf(part: Record<string, unknown>): string[] {
  const battery = { name: 'BT1', kind: 'supply', plus: 'rail', minus: 'ground', voltage: 9 };
  const { issues, circuit } = checkCircuit({ parts: [battery, { name: 'X1', ...part }] }, standardKinds);
  expect(circuit).toBeUndefined();
  return issues.map(({ message }) => plain(message));
}

test('a coil is refused with what to take in its place', () => {
  const [message] = messagesOf({ kind: 'coil', a: 'rail', b: 'ground', inductance: '10 mH' });
  expect(message).toMatch(/got "coil"\. An inductance with a capacitor rings.* take a solenoid or a relay/);
});

test('words that merely look like fields of an object are unknown kinds like others', () => {
  expect(messagesOf({ kind: 'constructor' })[0]).toContain('Choose one of these.');
});
