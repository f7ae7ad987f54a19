import { boardPlace } from '#notebook/runtime/board-place.ts';
import { expect, test } from 'vitest';

const document = {
  boards: { flasher: { ready: 'astable' }, counter: { ready: 'frequency divider' } },
  links: [{ a: 'flasher.out', b: 'counter.in' }, { a: 'counter.control' }, 'no link'],
  page: [
    { id: 'one', kind: 'board', board: 'flasher' },
    { id: 'two', kind: 'trace', board: 'counter' },
    { id: 'words', kind: 'note', text: '' },
  ],
};

test('a board that shares its page with another is not the only one, and names what it is linked to', () => {
  expect(boardPlace(document, 'flasher')).toEqual({
    board: 'flasher',
    isOnly: false,
    links: ['link1 leads from out to counter.in'],
  });
  expect(boardPlace(document, 'counter')?.links).toEqual(['link1 leads from in to flasher.out']);
});

test('the one board of a page is the only one', () => {
  const alone = { boards: document.boards, page: document.page.slice(0, 1) };
  expect(boardPlace(alone, 'flasher')).toEqual({ board: 'flasher', isOnly: true, links: [] });
});

test('a page without a board has no place for one', () => {
  expect(boardPlace({ page: [] }, undefined)).toBeUndefined();
});
