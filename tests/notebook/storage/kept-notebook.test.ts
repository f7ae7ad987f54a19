import { type History, openHistory, record } from '#notebook/edit/history.ts';
import { FORM, readKept, STEPS_STORED, storedHistory } from '#notebook/storage/kept-notebook.ts';
import { describe, expect, test } from 'vitest';
import { keptNotebook } from './kept-notebooks.ts';

describe('readKept(found)', () => {
  test('gives back what was kept, through the copy that storage makes', () => {
    const kept = keptNotebook();
    expect(readKept(structuredClone(kept))).toEqual(kept);
  });

  test('refuses what a later version kept, and says that it stays as it is', () => {
    const read = readKept({ ...keptNotebook(), form: FORM + 1 });
    expect(read).toHaveProperty('refusal', expect.stringMatching(/“Signal box” .* later version .* stays as it is/));
  });

  test.each([
    ['nothing at all', undefined],
    ['text', 'gone'],
    ['no history', { ...keptNotebook(), history: undefined }],
    ['a document that is none', keptNotebook({ history: openHistory({ format: 'something else' }) })],
    ['steps without documents', { ...keptNotebook(), history: { ...keptNotebook().history, past: [{ label: 'x' }] } }],
    ['no predictions', { ...keptNotebook(), predictions: null }],
  ])('refuses %s', (_, found) => {
    expect(readKept(found)).toHaveProperty('refusal', expect.stringContaining('stays as it is'));
  });
});

describe('storedHistory(history)', () => {
  test('keeps the newest steps only, and what they share is still shared after storage', () => {
    let history: History = openHistory({ boards: { lamp: { ready: 'monostable' } }, title: '0' });
    for (let step = 1; step <= STEPS_STORED + 9; step += 1) {
      history = record(history, { path: ['title'], value: `${step}`, label: `title to ${step}` });
    }
    const stored = structuredClone(storedHistory(history));
    expect(stored.past).toHaveLength(STEPS_STORED);
    expect(stored.past.at(-1)?.label).toBe(`title to ${STEPS_STORED + 9}`);
    expect((stored.document as { boards: unknown }).boards).toBe(
      (stored.past[0]?.document as { boards: unknown }).boards,
    );
  });
});
