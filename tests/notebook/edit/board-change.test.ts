import { type BoardChange, changeBoard } from '#notebook/edit/board-change.ts';
import { openAsBoard } from '#notebook/edit/board-copy.ts';
import { boardParts } from '#notebook/edit/board-values.ts';
import type { Json } from '#notebook/edit/json.ts';
import { withValue } from '#notebook/edit/path.ts';
import { computeDocument, parseDocument, type SymptomsResult } from '#sim/document/index.ts';
import { beforeAll, describe, expect, test } from 'vitest';

const reading = { id: 'now', kind: 'reading', until: '20 s', take: { lit: 'width(out)', mean: 'mean(timing)' } };
const document: Json = {
  format: 'two-thirds',
  version: 1,
  boards: { lamp: { ready: 'monostable', values: { R1: '390 kΩ' } } },
  page: [
    { ...reading, board: 'lamp' },
    { id: 'faults', kind: 'symptoms', board: 'lamp', until: '20 s', take: reading.take },
  ],
};

function computed(of: Json): ReturnType<typeof computeDocument>['results'] {
  const parsed = parseDocument(JSON.stringify(of));
  if (parsed.document === undefined) throw new Error(parsed.unusable?.message);
  return computeDocument(parsed.document).results;
}

function changed(change: BoardChange): Json {
  const edit = changeBoard(document, 'lamp', change);
  if (edit === undefined) throw new Error('it must be possible');
  return withValue(document, edit.path, edit.value);
}

describe('changeBoard(document, board, change)', () => {
  let faults: SymptomsResult['rows'];
  beforeAll(() => {
    faults = (computed(document)['faults'] as SymptomsResult).rows;
  });

  test('every fault put on the board reads there as it did among the faults', () => {
    // A part of each kind of change: fields, joints, exchanged ends, something beside, and something in its place.
    const wanted = ['R1:a-tenth', 'C1:dry-joint', 'D1:reversed', 'U1:stuck', 'C1:short', 'BT1:flat', 'S1:open'];
    for (const name of wanted) {
      const fault = faults.find(({ part, what }) => `${part}:${what}` === name);
      if (fault === undefined) throw new Error(name);
      const after = changed({ fault: fault.change, title: fault.title });
      const { values } = computed(withValue(after, ['page'], [{ ...reading, board: 'lamp' }]))['now'] as {
        values: Record<string, number | null>;
      };
      expect([name, values['lit'], values['mean']]).toEqual([name, ...fault.values.slice(0, 2)]);
    }
  });

  test('a fault that only changes values leaves a ready board one, others give it a parts list; each has a name', () => {
    const of = (what: string) => faults.find((each) => each.part === 'R1' && each.what === what)!;
    const [tenth, dry] = [of('a-tenth'), of('dry-joint')];
    expect(changed({ fault: tenth.change, title: tenth.title })).toMatchObject({
      boards: { lamp: { ready: 'monostable', values: { R1: '39\u202fkΩ' } } },
    });
    const edit = changeBoard(document, 'lamp', { fault: dry.change, title: dry.title });
    expect(edit?.label).toBe('R1 has a dry joint (1\u202fkΩ in series)');
    const parts = boardParts(withValue(document, edit!.path, edit!.value), 'lamp');
    expect(parts.map(({ name }) => name)).toContain('R1_a_series');
  });

  test('an instrument is joined to a net, and opened so as a board of its own', () => {
    const change: BoardChange = { net: 'timing', resistance: 1e6 };
    expect(boardParts(changed(change), 'lamp').at(-1)).toMatchObject({ kind: 'probe', a: 'timing', b: 'ground' });
    const edit = openAsBoard(document, 'lamp', change, 1);
    const after = withValue(document, edit!.path, edit!.value);
    expect(after).toMatchObject({ boards: { lamp: { ready: 'monostable' }, lamp2: {} } });
    expect(computed(after)['trace']).toMatchObject({ ok: true });
  });

  test('nothing is done where it means nothing on the board', () => {
    expect(changeBoard(document, 'lamp', { net: 'nowhere', resistance: 1 })).toBeUndefined();
    const fault = { part: 'R9', steps: [{ step: 'exchange', terminals: ['a', 'b'] }] } as const;
    expect(changeBoard(document, 'lamp', { fault, title: 'R9 reversed' })).toBeUndefined();
  });
});
