import { cellCsv, claimTrialsFor, computeDocument, documentStudies, loadDocument } from '#sim/document/index.ts';
import type { ClaimResult, ComputeDocumentOptions } from '#sim/document/index.ts';
import { describe, expect, test } from 'vitest';
import { plain } from '../../support/circuit-issues.ts';
import { documentOf, issuesOf, resultOf } from '../../support/documents.ts';

// The button of the ready board is pressed for 200 ms; its R1 is 390 kΩ, its C1 10 µF.
const boards = { lamp: { ready: 'monostable', values: { 'U1.family': 'ideal' } } };
const claim = {
  id: 'rule',
  kind: 'claim',
  board: 'lamp',
  until: '100 * R1 * C1 + 2 s',
  says: 'width(out) = 1.1 * R1 * C1 within 1 %',
  over: {
    R1: { from: '10 kΩ', to: '1 MΩ', series: 'E6' },
    'U1.family': ['ideal', 'bipolar'],
    BT1: ['9 V', '12 V', '15 V'],
  },
  trials: 20,
};

async function tried(cell: object, options: ComputeDocumentOptions = {}) {
  const { document, formulas, issues } = await loadDocument(
    JSON.stringify(documentOf(boards, [{ ...claim, ...cell }])),
  );
  if (document === undefined || issues.some(({ severity }) => severity === 'fault'))
    throw new Error(issues[0]?.message);
  const claims = await claimTrialsFor(document);
  return computeDocument(document, { formulas, claims, ...options }).results;
}

async function claimOf(cell: object): Promise<ClaimResult> {
  return resultOf(await tried(cell), 'rule', 'claim');
}

async function messages(cell: object): Promise<string[]> {
  const { issues } = await loadDocument(JSON.stringify(documentOf(boards, [{ ...claim, ...cell }])));
  return issues.filter(({ severity }) => severity === 'fault').map(({ message }) => plain(message));
}

describe('a claim cell', () => {
  test('fails with the simplest case that breaks it, as values to put into the board', async () => {
    const found = await claimOf({});
    // T is below the press of 200 ms up to R1 = 18.2 kΩ (closed form), and E6 has 10 and 15 kΩ there.
    expect(found).toMatchObject({ verdict: 'fails', unit: 's', share: 1, trials: 20, seed: 1 });
    expect(found.counterexample?.values).toEqual({ R1: 10e3 });
    expect(found.counterexample?.left).toBeCloseTo(0.2, 9);
    expect(found.counterexample?.right).toBeCloseTo(0.11, 9);
    expect(found.holds + found.fails + found.open).toBe(20);
    const { left, relation, right, within } = found;
    expect([left, relation, right, within]).toEqual(['width(out)', '=', '1.1 * R1 * C1', '1 %']);
    const words = plain(found.sentence);
    expect(words).toContain('The simplest case in which it fails: R1 is 10 kΩ, everything else as it stands;');
    expect(words).toContain('there width(out) is 200.0 ms and 1.1 * R1 * C1 is 110.0 ms, an error of +81.8 %.');
    expect(words).toContain('With one value changed at a time, it holds for R1 from 18 kΩ to 1 MΩ');
    expect(words).toContain('and for every value of U1 family and BT1 that was tried');
    // Together as far as alone here: neither family nor supply moves the end at which the press is as long.
    expect(found.box?.sides).toEqual([
      { value: 'R1', unit: 'Ω', from: expect.closeTo(18e3, -3) as number, to: 1e6 },
      { value: 'U1.family', words: ['ideal', 'bipolar'] },
      { value: 'BT1', unit: 'V', from: 9, to: 15 },
    ]);
    expect(words).toMatch(
      /Together, it holds for R1 from 1[89](\.\d+)? kΩ to 1 MΩ, U1 family ideal or bipolar with BT1 from 9 V to 15 V \(68 points/,
    );
  });

  test('gives the error over every value alone, for a chart', async () => {
    const { over } = await claimOf({});
    expect(over.map(({ value, unit, now }) => [value, unit, now])).toEqual([
      ['R1', 'Ω', 390e3],
      ['U1.family', null, 'ideal'],
      ['BT1', 'V', 12],
    ]);
    const [resistor, family, supply] = over;
    // Preferred values of E6 (IEC 60063:2015, common practice, no source).
    expect(resistor?.x.slice(0, 3)).toEqual([10e3, 15e3, 22e3]);
    expect(resistor?.verdicts.slice(0, 3)).toEqual(['fails', 'fails', 'holds']);
    expect(resistor?.error.at(-1)).toBeCloseTo(Math.log(3) / 1.1 - 1, 9);
    expect(resistor?.holds).toMatchObject({ to: 1e6, fromIsEnd: false, toIsEnd: true, checked: 20 });
    expect([family?.x, family?.holds]).toEqual([['ideal', 'bipolar'], null]);
    // A list has nothing between its values.
    expect([supply?.x, supply?.holds?.checked]).toEqual([[9, 12, 15], 0]);
  });

  test('takes words as values, of timers that then are other ones', async () => {
    // Bias currents of a bipolar timer lengthen the interval at 20 MΩ; an ideal one has none.
    const over = { R1: ['390 kΩ', '20 MΩ'], 'U1.family': ['ideal', 'bipolar'] };
    const found = await claimOf({ over, until: '1000 s', trials: 40 });
    expect(found.counterexample?.values).toEqual({ R1: 20e6, 'U1.family': 'bipolar' });
  });

  test('holds, and says by how much it is off as the board stands', async () => {
    const found = await claimOf({ over: { R1: { from: '100 kΩ', to: '1 MΩ', series: 'E6' } } });
    expect(found).toMatchObject({ verdict: 'holds', holds: 20, fails: 0, counterexample: null });
    expect(plain(found.sentence)).toContain(
      'It holds in all of 20 trials (seed 1). As the board stands, width(out) is',
    );
  });

  test('compares plain numbers with plain tolerances, and readings with readings', async () => {
    const over = { R1: ['100 kΩ', '390 kΩ'] };
    expect((await claimOf({ says: 'count(out) = 1.2 within 0.3', over })).verdict).toBe('holds');
    expect((await claimOf({ says: 'count(out) = 1.2 within 0.1', over })).verdict).toBe('fails');
    expect((await claimOf({ says: 'first(out) = first(button, fall) within 1 us', over })).verdict).toBe('holds');
  });

  test('gives plain data and the same tables', async () => {
    const found = await claimOf({});
    expect(JSON.parse(JSON.stringify(found))).toEqual(found);
    const [courses, example, box] = cellCsv('rule', found);
    expect(box?.text.split(/\r?\n/).slice(0, 3)).toEqual([
      'value,from,to,unit',
      expect.stringMatching(/^R1,1[89]\d+(\.\d+)?,1000000,Ω$/),
      'U1.family,ideal | bipolar,,',
    ]);
    expect(courses?.text.split(/\r?\n/).slice(0, 2)).toEqual([
      'value,at,unit,verdict,left_s,right_s,error,reason',
      expect.stringMatching(/^R1,10000,Ω,fails,0\.(2|19999)\d*,0\.11\d*,0\.81\d+,$/),
    ]);
    expect(example?.name).toBe('rule.counterexample.csv');
    expect(example?.text.split(/\r?\n/)[1]).toBe('R1,10000,Ω');
  });

  test('keeps what is there when it is stopped, and is faulty with nothing to try it with', async () => {
    const stopped = (await tried({}, { signal: { aborted: true } }))['rule'];
    expect(stopped?.ok === false && stopped.partial).toMatchObject({ kind: 'claim', share: 0, verdict: 'open' });
    const none = (await tried({}, { claims: undefined }))['rule'];
    expect(none?.ok === false && none.error.message).toContain('by the options formulas and claims');
  });

  test('is a study like others', async () => {
    const { document, formulas } = await loadDocument(JSON.stringify(documentOf(boards, [claim])));
    if (document === undefined) throw new Error('cannot be used');
    const claims = await claimTrialsFor(document);
    const [entry] = documentStudies(document, { formulas, claims });
    // The board as it stands, three values, one block of trials, and several values at a time.
    expect([entry?.id, entry?.study.jobCount]).toEqual(['rule', 6]);
    expect(documentStudies(document, { formulas })).toEqual([]);
  });

  test('loads nothing for pages without claims', async () => {
    const { document } = await loadDocument(JSON.stringify(documentOf(boards, [])));
    expect(document && (await claimTrialsFor(document))).toBe(undefined);
  });

  test.each([
    [
      'unit misfit',
      { says: 'width(out) = 1.1 * R1' },
      'says must compare only what has the same unit; got seconds and ohms.',
    ],
    ['unknown part', { says: 'width(out) = 1.1 * R9 * C1' }, 'says must name a part of the board'],
    ['unknown net', { says: 'width(away) = 1 s' }, 'must name a net of the board'],
    ['a list', { says: 'widths(out) = 1 s' }, 'must be a reading that gives one number'],
    [
      'a tolerance in ohms',
      { says: 'width(out) = 1 s within 1 kΩ' },
      'must have a tolerance: be a share such as "5 %", or at least 0 in s',
    ],
    ['an exact relation', { says: 'width(out) < 1 s within 1 %' }, 'must be exact with <; got within 1 %.'],
    ['a family as number', { says: 'width(out) = U1.family * 1 s' }, 'says must name a number that U1 has'],
    ['an end in ohms', { until: '3 * R1' }, 'until must be a time; got ohms.'],
    ['an end before its start', { from: '3 s', until: '2 s' }, 'until must be later than from'],
    ['an end of readings', { until: '3 * width(out)' }, 'until must call only the functions'],
    [
      'an unknown word',
      { over: { 'U1.family': ['maplewood'] } },
      'must hold only words that U1.family can be; got "maplewood".',
    ],
    ['a range of words', { over: { 'U1.family': { from: 1, to: 2 } } }, 'must be a list of words'],
    ['an unknown value', { over: { R9: ['1 kΩ'] } }, 'must name a part of the board'],
    ['a range the wrong way', { over: { R1: { from: '2 kΩ', to: '1 kΩ' } } }, 'over.R1.to must be more than from'],
    ['nothing to vary', { over: {} }, 'over must name at least one value'],
    ['a list for over', { over: ['R1'] }, 'over'],
    ['no trials', { trials: 0 }, 'trials must be a whole number from 1 to 100000'],
    ['a negative seed', { seed: -1 }, 'seed must be a whole number from 0 to 4294967295'],
    ['an unknown field of a range', { over: { R1: { form: 1 } } }, 'must be a field of a range'],
  ])('refuses %s', async (_, cell, words) => {
    const found = await messages(cell);
    expect(found.join('\n')).toContain(words);
    expect(found[0]).toMatch(/^page\[0\] \(rule\): .*must .+; got .+\. \S/);
  });

  test('is found faulty in its ranges without anything to read formulas with', () => {
    expect(issuesOf(documentOf(boards, [{ ...claim, over: { R1: { from: 1 } } }]))).toEqual([
      'page[0].over.R1.to: bad-range',
    ]);
    expect(issuesOf(documentOf(boards, [claim]))).toEqual([]);
  });
});
