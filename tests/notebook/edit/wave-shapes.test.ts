import { record, openHistory } from '#notebook/edit/history.ts';
import type { Json, JsonRecord } from '#notebook/edit/json.ts';
import { valueAt, withValue } from '#notebook/edit/path.ts';
import { partValue } from '#notebook/edit/place-value.ts';
import { changeShape, WAVE_SHAPES, waveFields } from '#notebook/edit/wave-shapes.ts';
import { partViews, type ValueView } from '#notebook/runtime/board-view.ts';
import { valueEdit } from '#notebook/runtime/value-edit.ts';
import { computeDocument, parseDocument } from '#sim/document/index.ts';
import { expect, test } from 'vitest';

function withWave(wave: Json): Json {
  return {
    format: 'two-thirds',
    version: 1,
    boards: { counter: { parts: [{ name: 'G1', kind: 'signal', plus: 'in', minus: 'ground', wave }] } },
    page: [{ id: 'board', kind: 'board', board: 'counter' }],
  };
}

const counter: Json = {
  format: 'two-thirds',
  version: 1,
  boards: { counter: { ready: 'frequency divider', values: { 'G1.wave.period': '180 ms' } } },
  page: [{ id: 'board', kind: 'board', board: 'counter' }],
};

function reshaped(document: Json, shape: string): Json {
  const edit = changeShape(document, 'counter', 'G1', shape);
  if (edit === undefined) throw new Error(`the wave must become ${shape}`);
  return record(openHistory(document), edit).document;
}

function waveOf(document: Json): JsonRecord {
  return partValue(document, 'counter', 'G1', ['wave']) as JsonRecord;
}

function complaintOf(document: Json): string | undefined {
  const parsed = parseDocument(JSON.stringify(document));
  if (parsed.document === undefined) return parsed.unusable?.message;
  const result = computeDocument(parsed.document).results['board'];
  return result?.ok === false ? result.error.message : undefined;
}

function typed(document: Json, name: string, text: string): Json {
  const view = viewsOf(document).find((value) => value.name === name);
  if (view === undefined) throw new Error(`${name} must be shown`);
  const edit = valueEdit(document, 'counter', view, text);
  if (edit === undefined) throw new Error(`${name} must take ${text}`);
  return record(openHistory(document), edit).document;
}

function viewsOf(document: Json): readonly ValueView[] {
  return partViews(document, 'counter', undefined).find(({ name }) => name === 'G1')?.values ?? [];
}

test('every shape can become every other, and what it becomes can be computed', () => {
  for (const from of WAVE_SHAPES) {
    for (const to of WAVE_SHAPES.filter((each) => each !== from)) {
      const start = from === 'pulses' ? counter : reshaped(counter, from);
      expect(complaintOf(reshaped(start, to)), `${from} to ${to}`).toBeUndefined();
    }
  }
});

test('the fields of a shape are those that the library takes: each may stand, and what must be given is missed', () => {
  for (const shape of WAVE_SHAPES) {
    const wave = shape === 'pulses' ? waveOf(counter) : waveOf(reshaped(counter, shape));
    for (const { name, usual, words } of waveFields(wave)) {
      const filled = { ...wave, [name]: wave[name] ?? usual ?? words?.[0] };
      expect(complaintOf(withWave(filled)), `${shape} with ${name}`).toBeUndefined();
      const { [name]: _, ...without } = wave;
      const complaint = complaintOf(withWave(without));
      if (usual === undefined) expect(complaint, `${shape} without ${name}`).toContain(name);
      else expect(complaint, `${shape} without ${name}`).toBeUndefined();
    }
  }
});

test('levels, how often and how long go along from shape to shape', () => {
  const square = reshaped(
    withWave({ shape: 'pulses', period: '200 ms', width: '50 ms', rest: '12 V', pulse: '0 V', delay: '1 s' }),
    'square',
  );
  // A pulse down for a quarter of the time is high for three quarters.
  expect(waveOf(square)).toEqual({
    shape: 'square',
    frequency: '5 Hz',
    duty: '75 %',
    high: '12 V',
    low: '0 V',
    delay: '1 s',
  });
  expect(waveOf(reshaped(square, 'sine'))).toEqual({
    shape: 'sine',
    frequency: '5 Hz',
    amplitude: '6 V',
    offset: '6 V',
  });
});

test('another shape on a ready board leaves no entries of the old one behind, so that later changes act', () => {
  const square = reshaped(counter, 'square');
  expect(waveOf(square)['period']).toBeUndefined();
  const pulses = typed(reshaped(square, 'pulses'), 'G1.wave.period', '250 ms');
  expect(waveOf(pulses)['period']).toBe('250 ms');
  expect(complaintOf(pulses)).toBeUndefined();
});

test('what may be left out is shown with what holds then, is filled in, counts as a number, and can be emptied again', () => {
  const shown = viewsOf(counter).map(({ name, hint }) => [name, hint]);
  expect(shown).toContainEqual(['G1.wave.count', 'endless']);
  expect(viewsOf(counter).find(({ name }) => name === 'G1.wave.shape')?.words).toEqual(WAVE_SHAPES);
  const counted = typed(counter, 'G1.wave.count', '3');
  expect(waveOf(counted)['count']).toBe(3);
  expect(complaintOf(counted)).toBeUndefined();
  expect(waveOf(typed(counted, 'G1.wave.count', ''))['count']).toBeUndefined();
});

test('a field that must be given is shown while it is missing, and its complaint has a place', () => {
  const { width: _, ...wave } = waveOf(counter);
  const document = withWave(wave);
  expect(viewsOf(document).map(({ name }) => name)).toContain('G1.wave.width');
  expect(complaintOf(document)).toContain('G1: wave.width must be given');
  expect(complaintOf(typed(document, 'G1.wave.width', '8 ms'))).toBeUndefined();
});

test('a knob of the period goes over to the frequency, and knobs that would turn nothing go', () => {
  const withKnobs = withValue(counter, ['page', 0, 'knobs'], ['R1', 'G1.wave.period', 'G1.wave.width', 'BT1']);
  const square = reshaped(withKnobs, 'square');
  expect(valueAt(square, ['page', 0, 'knobs'])).toEqual(['R1', 'G1.wave.frequency', 'BT1']);
  expect(complaintOf(square)).toBeUndefined();
});
