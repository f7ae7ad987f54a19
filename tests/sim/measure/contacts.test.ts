import { describe, expect, test } from 'vitest';
import type { Part } from '#sim/circuit/description.ts';
import { contactsOf } from '#sim/measure/contacts.ts';

function partOf(kind: string, nets: Record<string, string> = {}, values: Record<string, unknown> = {}): Part {
  return { name: 'K1', kind, nets, values };
}

describe('contactsOf()', () => {
  test.each(['button', 'switch', 'jumper', 'finger'])('a %s has one contact, moved by hand', (kind) => {
    const closed = (values: Record<string, unknown>) => contactsOf(partOf(kind, {}, values));
    expect([...closed({ closed: true })]).toEqual([['K1', { part: 'K1', by: 'hand', closed: true }]]);
    expect([...closed({ closed: false })]).toEqual([['K1', { part: 'K1', by: 'hand', closed: false }]]);
    expect([...closed({})]).toEqual([['K1', { part: 'K1', by: 'hand', closed: false }]]);
  });

  test('a part without contacts has none', () => {
    expect([...contactsOf(partOf('resistor', { normallyOpen: 'x' }))]).toEqual([]);
  });

  test('a relay has those that are joined; its own name means the one that makes, if there is one', () => {
    const make = { part: 'K1', by: 'pulled', closed: false };
    const rest = { part: 'K1', by: 'dropped', closed: true };
    expect([...contactsOf(partOf('relay', { normallyOpen: 'x', normallyClosed: 'y' }))]).toEqual([
      ['K1', make],
      ['K1.normallyOpen', make],
      ['K1.normallyClosed', rest],
    ]);
    expect([...contactsOf(partOf('relay', { normallyOpen: 'x' }))]).toEqual([
      ['K1', make],
      ['K1.normallyOpen', make],
    ]);
    expect([...contactsOf(partOf('relay', { normallyClosed: 'y' }))]).toEqual([
      ['K1', rest],
      ['K1.normallyClosed', rest],
    ]);
    expect([...contactsOf(partOf('relay'))]).toEqual([]);
  });
});
