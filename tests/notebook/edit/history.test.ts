import { type Edit, openHistory, record, redo, settle, STEPS_KEPT, undo } from '#notebook/edit/history.ts';
import { describe, expect, test } from 'vitest';

const set = (value: string, joins?: string): Edit => ({
  path: ['R1'],
  value,
  label: `R1 to ${value}`,
  ...(joins === undefined ? {} : { joins }),
});

describe('record, undo and redo', () => {
  test('undo brings back the very same document, redo the edited one', () => {
    const start = openHistory({ R1: '1k' });
    const edited = record(start, set('2k'));
    expect(edited.document).toEqual({ R1: '2k' });
    expect(undo(edited).document).toBe(start.document);
    expect(redo(undo(edited)).document).toBe(edited.document);
  });

  test('an edit that changes nothing is no step', () => {
    const start = openHistory({ R1: '1k' });
    expect(record(start, set('1k'))).toBe(start);
  });

  test('an edit after an undo forgets what was undone', () => {
    const history = record(undo(record(openHistory({ R1: '1k' }), set('2k'))), set('3k'));
    expect(redo(history)).toBe(history);
    expect(history.document).toEqual({ R1: '3k' });
  });

  test('undo and redo with nothing to do give the same history', () => {
    const start = openHistory({});
    expect(undo(start)).toBe(start);
    expect(redo(start)).toBe(start);
  });

  test('keeps a stated number of steps', () => {
    let history = openHistory({ R1: 'start' });
    for (let step = 0; step < STEPS_KEPT + 5; step += 1) history = record(history, set(String(step)));
    expect(history.past).toHaveLength(STEPS_KEPT);
  });
});

describe('joined edits', () => {
  test('a turn of a knob is one step of undo, named by where it ended', () => {
    let history = openHistory({ R1: '1k' });
    for (const value of ['1k1', '1k2', '1k3']) history = record(history, set(value, 'knob R1'));
    expect(history.past.map((step) => step.label)).toEqual(['R1 to 1k3']);
    expect(undo(history).document).toEqual({ R1: '1k' });
  });

  test('the next turn after settle is a step of its own', () => {
    const first = settle(record(openHistory({ R1: '1k' }), set('2k', 'knob R1')));
    const second = record(first, set('3k', 'knob R1'));
    expect(undo(second).document).toEqual({ R1: '2k' });
  });

  test('settle without an open turn gives the same history', () => {
    const history = record(openHistory({ R1: '1k' }), set('2k'));
    expect(settle(history)).toBe(history);
  });
});
