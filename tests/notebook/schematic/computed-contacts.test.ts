import { ComputedContacts } from '#notebook/schematic/computed-contacts.ts';
import { contactsOf } from '#notebook/schematic/contacts.ts';
import type { TraceResult } from '@two-thirds/sim/document';
import { expect, test } from 'vitest';

const contacts = (closed: boolean) =>
  contactsOf({ boards: { gate: { parts: [{ name: 'J1', kind: 'jumper', a: 'rail', b: 'lamp', closed }] } } }, 'gate');
// A trace is told from another by being another object; what it holds is not read.
const trace = (): TraceResult => ({}) as TraceResult;

test('a trace stops telling of contacts once one of them is changed, and tells of them again when that is taken back', () => {
  const computed = new ComputedContacts();
  const former = trace();
  expect(computed.areOf(former, contacts(true))).toBe(true);
  expect(computed.areOf(former, contacts(false))).toBe(false);
  expect(computed.areOf(trace(), contacts(false))).toBe(true);
  expect(computed.areOf(former, contacts(false))).toBe(false);
  expect(computed.areOf(former, contacts(true))).toBe(true);
});
