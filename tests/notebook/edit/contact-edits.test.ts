import { setContact } from '#notebook/edit/contact-edits.ts';
import { expect, test } from 'vitest';

const document = {
  boards: {
    gate: { parts: [{ name: 'J1', kind: 'jumper', a: 'rail', b: 'lamp' }] },
    bell: { ready: 'monostable' },
  },
  links: [{ a: 'gate.lamp', b: 'bell.button' }],
};

test('opens and closes a part of a board, under a name', () => {
  const path = ['boards', 'gate', 'parts', 0, 'closed'];
  expect(setContact(document, 'gate', 'J1', false)).toEqual({ path, value: false, label: 'open J1' });
  expect(setContact(document, 'gate', 'J1', true)).toEqual({ path, value: true, label: 'close J1' });
});

test('sets a part of a ready board among its values', () => {
  expect(setContact(document, 'bell', 'S1', true)).toEqual({
    path: ['boards', 'bell', 'values', 'S1.closed'],
    value: true,
    label: 'close S1',
  });
});

test('opens a link from either of its boards', () => {
  const edit = { path: ['links', 0, 'closed'], value: false, label: 'open link1' };
  expect(setContact(document, 'gate', 'link 1', false)).toEqual(edit);
  expect(setContact(document, 'bell', 'link 1', false)).toEqual(edit);
});

test('knows no part that is not there', () => {
  expect(setContact(document, 'gate', 'J9', true)).toBeUndefined();
  expect(setContact(document, 'nowhere', 'J1', true)).toBeUndefined();
});
