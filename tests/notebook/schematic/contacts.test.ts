import { closedByHand, closedContacts, contactsOf } from '#notebook/schematic/contacts.ts';
import { describe, expect, test } from 'vitest';

/** The lamp of a level crossing with every kind of contact, and a link to the bell. */
const page = {
  boards: {
    lamp: {
      parts: [
        { name: 'J1', kind: 'jumper', a: 'rail', b: 'lamp' },
        { name: 'J2', kind: 'jumper', a: 'rail', b: 'lamp', closed: false },
        { name: 'S1', kind: 'switch', a: 'rail', b: 'lamp' },
        { name: 'S2', kind: 'switch', a: 'rail', b: 'lamp', closed: true },
        { name: 'S3', kind: 'button', a: 'rail', b: 'lamp', presses: [{ at: '1 s', for: '200 ms' }] },
        { name: 'S4', kind: 'button', a: 'rail', b: 'lamp', closed: true, presses: [{ at: 1, for: 0.2 }] },
        { name: 'F1', kind: 'finger', a: 'lamp', touches: [{ at: '1 s', for: '200 ms' }] },
        { name: 'R1', kind: 'resistor', a: 'rail', b: 'lamp', resistance: '1 kΩ' },
      ],
    },
    bell: { ready: 'monostable', values: { 'S1.presses': [{ at: '3 s', for: '1 s' }] } },
  },
  links: [
    { a: 'lamp.lamp', b: 'bell.button', closed: false },
    { a: 'bell.out', b: 'lamp.lamp', presses: [{ at: '1 s', for: '1 s' }] },
  ],
};
const closed = (board: string, time?: number): string[] => [...closedContacts(contactsOf(page, board), time)];

describe('closedContacts', () => {
  test('gives the resting states where there is no time', () => {
    expect(closed('lamp')).toEqual(['J1', 'S2', 'S4', 'link 2']);
  });

  test('turns a contact over from the instant of a press up to its end', () => {
    expect(closed('lamp', 0.999)).toEqual(['J1', 'S2', 'S4', 'link 2']);
    expect(closed('lamp', 1)).toEqual(['J1', 'S2', 'S3', 'F1']);
    expect(closed('lamp', 1.1999)).toEqual(['J1', 'S2', 'S3', 'F1']);
    expect(closed('lamp', 1.2)).toEqual(['J1', 'S2', 'S4']);
    expect(closed('lamp', 2)).toEqual(['J1', 'S2', 'S4', 'link 2']);
  });

  test('knows what a ready board plans, as its values have it', () => {
    expect(closed('bell', 1.1)).toEqual([]);
    expect(closed('bell', 3.5)).toEqual(['S1', 'link 2']);
  });

  test('takes what has been computed for an instant, and links as they are planned', () => {
    const contacts = contactsOf(page, 'lamp');
    expect([...closedContacts(contacts, 1, ['J1', 'S2'])]).toEqual(['J1', 'S2']);
    expect([...closedContacts(contacts, 2, ['J1'])]).toEqual(['J1', 'link 2']);
  });

  test('leaves out a press that cannot be read', () => {
    const parts = [{ name: 'S1', kind: 'button', a: 'rail', b: 'lamp', presses: [{ at: 'soon', for: '1 s' }, 'now'] }];
    expect(contactsOf({ boards: { lamp: { parts } } }, 'lamp')).toEqual([
      { part: 'S1', kind: 'button', closed: false, worked: [] },
    ]);
  });
});

test('closedByHand turns over what a hand works', () => {
  const presses = [
    { part: 'J1', closed: true },
    { part: 'J2', closed: true },
    { part: 'S1', closed: false },
    { part: 'S2', closed: false },
  ];
  expect([...closedByHand(presses, new Set(['J2', 'S2']))]).toEqual(['J1', 'S2']);
});
