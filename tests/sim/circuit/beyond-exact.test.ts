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

test.each([
  [
    { kind: 'coil', a: 'rail', b: 'ground', inductance: '10 mH' },
    /got "coil"\. A coil .* Take a resistor .* diode across/,
  ],
  [{ kind: 'relay', a: 'rail', b: 'ground' }, /got "relay"\. A winding .* Take a resistor .* a switch with presses/],
])('%j is refused with what to take in its place', (part, wanted) => {
  expect(messagesOf(part)).toContainEqual(expect.stringMatching(wanted));
});

test('words that merely look like fields of an object are unknown kinds like others', () => {
  expect(messagesOf({ kind: 'constructor' })[0]).toContain('Choose one of these.');
});
