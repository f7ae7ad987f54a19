import { readFileSync } from 'node:fs';
import { computeDocument, DocumentSession, loadDocument } from '#sim/document/index.ts';
import { describe, expect, test } from 'vitest';

const counter = readFileSync(
  new URL('../../../worked-examples/01-axle-counter/axle-counter.tt.json', import.meta.url),
  'utf8',
);

/** The results of a document computed by itself, by key. */
async function alone(text: string): Promise<Record<string, unknown>> {
  const { document, formulas } = await loadDocument(text);
  return { ...computeDocument(document!, { columns: 60, ...(formulas === undefined ? {} : { formulas }) }).results };
}

/** The results of a session's next state. */
async function next(
  session: DocumentSession,
  text: string,
  keys?: readonly string[],
): Promise<Record<string, unknown>> {
  const { document } = await session.read(text);
  const ids = document!.page.map((cell) => (cell as { id: string }).id);
  return Object.fromEntries(session.begin({ columns: 60 }).compute(keys ?? ids));
}

/** A page that begins with one more note. */
function withCellBefore(text: string): string {
  const document = JSON.parse(text) as { page: unknown[] };
  return JSON.stringify({ ...document, page: [{ id: 'more', kind: 'note', text: 'One more.' }, ...document.page] });
}

describe('DocumentSession', () => {
  test('results are bit for bit those of the document alone, through edits of boards and cells', async () => {
    const session = new DocumentSession();
    const states = [
      counter,
      counter.replace('"R1": "100 kΩ"', '"R1": "120 kΩ"'),
      counter.replace('"R1": "100 kΩ"', '"R1": "120 kΩ", "G1.wave.period": "140 ms"'),
      counter.replace('"until": "2 s"', '"until": "4 s"'),
      counter.replace('ratio(out, in)', 'ratio(out, nothing)'),
      // The same cells further down: what is said of a fault names another place.
      withCellBefore(counter.replace('ratio(out, in)', 'ratio(out, nothing)')),
      // The same cells while their board is at fault, is gone, and is there again under another name.
      counter.replace('"R1": "100 kΩ"', '"R1": "100 kF"'),
      counter.replace('"coaches": {', '"wagons": {'),
      counter,
    ];
    for (const text of states) expect(await next(session, text), text.slice(0, 400)).toEqual(await alone(text));
  });

  test('so are those of a circuit with knobs for cells, while these change, go, and come back', async () => {
    const session = new DocumentSession();
    const document = JSON.parse(counter) as { page: Record<string, unknown>[] };
    const look = document.page.find(({ kind }) => kind === 'trace')!;
    const knobs = [`#${String(look['id'])}.until`, '#nobody.until'];
    const page = document.page.map((cell) => (cell['kind'] === 'board' ? { ...cell, knobs } : cell));
    const state = (change: (cell: Record<string, unknown>) => object): string =>
      JSON.stringify({ ...document, page: page.map((cell) => (cell['id'] === look['id'] ? change(cell) : cell)) });
    const states = [
      state((cell) => cell),
      state((cell) => ({ ...cell, until: '3 s' })),
      state((cell) => ({ ...cell, id: 'nobody' })),
      state(({ id }) => ({ id, kind: 'note', text: 'Nothing to look at.' })),
      state((cell) => cell),
    ];
    for (const text of states) expect(await next(session, text), text.slice(0, 400)).toEqual(await alone(text));
  });

  test('a cell that alone is asked for has what it needs from earlier states, without another run', async () => {
    const session = new DocumentSession();
    const whole = await next(session, counter);
    // The note of the answers quotes four runs; with one event for a run none of them could be made again.
    await session.read(counter.replace('"title": "Axle counter"', '"title": "Counter"'));
    const found = session.begin({ maxEvents: 1 }).compute(['others_answer']);
    expect(found.get('others_answer')).toEqual(whole['others_answer']);
  });

  test('a value that was changed and put back is not answered with what came between', async () => {
    const session = new DocumentSession();
    const [first] = [await next(session, counter)];
    const other = await next(session, counter.replace('"R1": "100 kΩ"', '"R1": "150 kΩ"'), ['numbers', 'answer']);
    expect(other['answer']).not.toEqual(first['answer']);
    expect((await next(session, counter, ['answer']))['answer']).toEqual(first['answer']);
  });

  test('a document that cannot be used says why, and leaves the state before in place', async () => {
    const session = new DocumentSession();
    await session.read(counter);
    expect((await session.read('{')).unusable?.code).toBe('not-json');
    expect(session.begin().compute(['rule']).get('rule')).toMatchObject({ ok: true, kind: 'formula' });
  });

  test('begin before read throws a RangeError', () => {
    expect(() => new DocumentSession().begin()).toThrow('DocumentSession: read must come before begin.');
  });
});
