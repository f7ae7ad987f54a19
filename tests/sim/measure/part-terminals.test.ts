import { expect, test } from 'vitest';
import type { Part } from '#sim/circuit/description.ts';
import { terminalNets } from '#sim/measure/part-terminals.ts';

function part(kind: string, nets: Record<string, string>): Part {
  return { name: 'X1', kind, nets } as unknown as Part;
}

test('terminalNets() gives plus and minus, or a and b, in the sense in which the current counts', () => {
  expect(terminalNets(part('supply', { plus: 'rail', minus: 'low' }))).toEqual(['rail', 'low']);
  expect(terminalNets(part('resistor', { a: 'one', b: 'other' }))).toEqual(['one', 'other']);
});

test('terminalNets() takes ground where the second is not given', () => {
  expect(terminalNets(part('supply', { plus: 'rail' }))).toEqual(['rail', 'ground']);
});

test('terminalNets() gives nothing for parts of more terminals, whatever they are called', () => {
  for (const kind of ['timer', 'pot', 'finger']) expect(terminalNets(part(kind, { a: 'x', b: 'y' }))).toBeUndefined();
  expect(terminalNets(part('transistor', { base: 'x', collector: 'y', emitter: 'z' }))).toBeUndefined();
});
