import type { Edit } from '#notebook/edit/history.ts';
import type { Json } from '#notebook/edit/json.ts';
import { addLink, closeLink, farEnds, leadLink, linksOf, removeLink } from '#notebook/edit/link-edits.ts';
import { valueAt, withValue } from '#notebook/edit/path.ts';
import { checkDocument } from '#sim/document/index.ts';
import { describe, expect, test } from 'vitest';

const page: Json = {
  format: 'two-thirds',
  version: 1,
  title: 'Level crossing',
  boards: { lamp: { ready: 'monostable' }, bell: { ready: 'monostable' }, empty: { parts: [] } },
  page: [{ id: 'board', kind: 'board', board: 'lamp' }],
};

function applied(document: Json, edit: Edit | undefined): Json {
  if (edit === undefined) throw new Error('edit: there must be one; got none.');
  return withValue(document, edit.path, edit.value);
}

describe('links between boards', () => {
  test('a new link leads from what one puts out to what the other waits for', () => {
    const document = applied(page, addLink(page, 'lamp', 'bell'));
    expect(valueAt(document, ['links'])).toEqual([{ a: 'lamp.out', b: 'bell.button', closed: false }]);
    expect(checkDocument(document).issues.filter(({ where }) => where.startsWith('links'))).toEqual([]);
    expect(linksOf(document, 'bell')).toEqual([
      {
        index: 0,
        near: 'b',
        far: 'a',
        net: 'button',
        other: 'lamp.out',
        closed: false,
        data: valueAt(document, ['links', 0]),
      },
    ]);
    expect(addLink(page, 'lamp', 'empty')).toBeUndefined();
  });

  test('its ends are led elsewhere, it is opened and closed, and goes without a trace', () => {
    let document = applied(page, addLink(page, 'lamp', 'bell'));
    document = applied(document, leadLink(0, 'b', 'bell.control'));
    expect(valueAt(document, ['links'])).toEqual([{ a: 'lamp.out', b: 'bell.control', closed: false }]);
    expect(linksOf(document, 'lamp')[0]).toMatchObject({ net: 'out', other: 'bell.control', closed: false });
    document = applied(document, closeLink(0, true));
    expect(valueAt(document, ['links', 0])).toEqual({ a: 'lamp.out', b: 'bell.control' });
    expect(applied(document, closeLink(0, false))).toEqual(withValue(document, ['links', 0, 'closed'], false));
    expect(applied(document, removeLink(document, 0))).toEqual(page);
    expect(farEnds(page, 'lamp')).toContain('bell.control');
    expect(farEnds(page, 'lamp')).not.toContain('lamp.out');
  });
});
