import {
  claimTrialsFor,
  computeDocument,
  documentStudies,
  loadDocument,
  type NoteResult,
} from '#sim/document/index.ts';
import { describe, expect, test } from 'vitest';
import { plain } from '../../support/circuit-issues.ts';
import { documentOf, resultOf, usable } from '../../support/documents.ts';

const values = { 'U1.family': 'ideal', 'R1.tolerance': '5 %', 'C1.tolerance': '20 %' };
const boards = {
  lamp: { ready: 'monostable', values },
  counter: { ready: 'frequency divider', values: { 'U1.family': 'ideal' } },
};
const width = { width: 'width(out)' };
const cells = {
  sweep: {
    id: 'speeds',
    kind: 'sweep',
    board: 'counter',
    until: '3 s',
    vary: { value: 'R1', from: '20 kΩ', to: '40 kΩ', steps: 4 },
    take: { ratio: 'ratio(out, in)', ...width },
    against: '1.1 * R1 * C1',
  },
  spread: {
    id: 'kits',
    kind: 'spread',
    board: 'lamp',
    until: '10 s',
    take: width,
    limits: { width: ['3.5 s', '5 s'] },
    samples: 200,
  },
  choose: {
    id: 'values',
    kind: 'choose',
    board: 'lamp',
    until: '12 s',
    want: { width: { reading: 'width(out)', value: '4.5 s', within: '5 %' } },
    adjust: { R1: { series: 'E6', from: '100 kΩ', to: '1 MΩ' }, C1: ['4.7 µF', '10 µF', '22 µF'] },
  },
  claim: {
    id: 'rule',
    kind: 'claim',
    board: 'lamp',
    until: '100 * R1 * C1 + 2 s',
    says: 'width(out) = 1.1 * R1 * C1 within 1 %',
    over: { R1: { from: '10 kΩ', to: '1 MΩ', series: 'E6' }, 'U1.family': ['ideal', 'bipolar'] },
    trials: 20,
  },
  swaps: {
    id: 'kit',
    kind: 'swaps',
    board: 'lamp',
    until: '20 s',
    parts: { R1: ['100 kΩ', '390 kΩ'], C1: ['10 µF', '22 µF', '10.1 µF'] },
    take: width,
  },
};

function note(targets: readonly string[]): object {
  return { id: 'words', kind: 'note', text: targets.map((target) => `[x](#${target})`).join(' ') };
}

/** What a note shows for each name of a cell. */
async function quotes(kind: keyof typeof cells, names: readonly string[]): Promise<string[]> {
  const cell = cells[kind];
  const text = JSON.stringify(documentOf(boards, [note(names.map((name) => `${cell.id}.${name}`)), cell]));
  const { document, formulas, issues } = await loadDocument(text);
  if (document === undefined || issues.length > 0) throw new Error(issues[0]?.message);
  const claims = await claimTrialsFor(document);
  const results = computeDocument(document, { formulas, claims, only: ['words'] }).results;
  const { quotes: found }: NoteResult = resultOf(results, 'words', 'note');
  return names.map((name) => plain(found[`${cell.id}.${name}`] ?? ''));
}

describe('a note that quotes a study', () => {
  test('shows jumps, extremes and errors of a sweep', async () => {
    const names = ['jumps', 'first_jump', 'ratio.least', 'ratio.greatest', 'width.least', 'width.error'];
    const [jumps, ...others] = await quotes('sweep', names);
    expect(Number(jumps)).toBeGreaterThan(0);
    // T = R C ln 3 reaches the spacing of 150 ms at 29.05 kΩ, T of 20 kΩ is 103.3 ms; the output is then held until 158 ms
    // where the rule says 150.2 ms (closed forms, ideal family).
    expect(others).toEqual(['29.1 kΩ', '1', '2', '103 ms', '5.20 %']);
  });

  test('shows shares, quantiles and worst cases of a spread', async () => {
    const [share, both, samples, least, greatest, low, median, high] = await quotes('spread', [
      'share',
      'width.share',
      'samples',
      'width.least',
      'width.greatest',
      'width.low',
      'width.median',
      'width.high',
    ]);
    expect(share).toMatch(/^\d\d\.\d %$/);
    expect(both).toBe(share);
    // 390 kΩ · 10 µF · ln 3 = 4.285 s; · 0.95 · 0.8 = 3.256 s and · 1.05 · 1.2 = 5.399 s (closed form).
    expect([samples, least, greatest]).toEqual(['200', '3.26 s', '5.40 s']);
    const order = [least, low, median, high, greatest].map((text) => Number.parseFloat(text ?? ''));
    expect(order).toEqual([...order].sort((a, b) => a - b));
  });

  test('shows the nearest set of a choice as values and readings', async () => {
    // R C ln 3 nearest to 4.5 s: 470 kΩ · 10 µF and 1 MΩ · 4.7 µF with 5.16 s, 14.7 % above; 3.63 s is 19 % below (closed form).
    const [resistance, capacitance, reached, off, granted] = await quotes('choose', [
      'R1',
      'C1',
      'width',
      'width.off',
      'granted',
    ]);
    expect([`${resistance} ${capacitance}`]).toEqual([expect.stringMatching(/^(470 kΩ 10 µF|1 MΩ 4\.7 µF)$/)]);
    expect([reached, off, granted]).toEqual(['5.16 s', '14.7 %', '0']);
  });

  test('shows verdict, counterexample and ranges of a claim', async () => {
    const names = ['verdict', 'trials', 'R1', 'U1.family', 'left', 'right', 'error', 'R1.from', 'R1.to'];
    // The press of 200 ms outlasts 1.1 R1 C1 = 110 ms, up to 18.2 kΩ (closed forms).
    expect(await quotes('claim', names)).toEqual([
      'fails',
      '20',
      '10 kΩ',
      'ideal',
      '200 ms',
      '110 ms',
      '81.8 %',
      expect.stringMatching(/^18(\.\d+)? kΩ$/),
      '1 MΩ',
    ]);
  });

  test('shows how many combinations there are, and how far apart they lie', async () => {
    const names = ['combinations', 'ranked', 'same', 'unsafe', 'never_ends', 'width.least', 'width.greatest'];
    // 100 kΩ · 10 µF · ln 3 = 1.10 s, 390 kΩ · 22 µF · ln 3 = 9.43 s; 10 and 10.1 µF are alike, twice (closed form).
    expect(await quotes('swaps', names)).toEqual(['6', '6', '2', '0', '0', '1.10 s', '9.43 s']);
  });

  test('has the study among the jobs to be done for it', () => {
    const document = usable(documentOf(boards, [note(['kits.share']), cells.spread, cells.swaps]));
    expect(documentStudies(document, { only: ['words'] }).map(({ id }) => id)).toEqual(['kits']);
  });

  test('shows no value where none of the jobs was run', () => {
    const document = usable(
      documentOf(boards, [note(['kits.share', 'kits.width.mean', 'kit.width.least']), cells.spread, cells.swaps]),
    );
    const jobs = new Map(['kits', 'kit'].map((id) => [id, new Map()]));
    const { quotes: found } = resultOf(computeDocument(document, { jobs }).results, 'words', 'note');
    expect([...new Set(Object.values(found))]).toEqual(['no value']);
  });

  test('is told what a study gives where it asks for something else', async () => {
    const message = async (target: string): Promise<string> => {
      const { issues } = await loadDocument(
        JSON.stringify(documentOf(boards, [note([target]), ...Object.values(cells)])),
      );
      return issues[0]?.message ?? '';
    };
    expect(await message('kits.width.shar')).toContain('(share, samples, width.share, width.mean, width.median, ');
    expect(await message('kits.width.shar')).toContain('Did you mean width.share?');
    expect(await message('speeds.ratio')).toContain('(jumps, first_jump, last_jump, ratio.least, ');
    expect(await message('rule.R2')).toContain('left, right, error, R1, R1.from, R1.to, U1.family');
    expect(await message('values.C2')).toContain('(R1, C1, width, width.off, granted)');
    expect(await message('kit.same_as')).toContain('(combinations, ranked, same, unsafe, over_limit, supply_low, ');
  });

  test('is the only place where they can be used', async () => {
    const formula = { id: 'sum', kind: 'formula', text: '2 * kits.share' };
    const { issues } = await loadDocument(JSON.stringify(documentOf(boards, [formula, cells.spread])));
    expect(issues[0]?.message).toContain('must use only cells that give numbers: formula, reading, fates, and board');
  });
});
