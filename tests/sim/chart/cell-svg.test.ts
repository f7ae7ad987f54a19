import { cellSvg, mapSvg } from '#sim/chart/cell-svg.ts';
import { type CellResult, claimTrialsFor, computeDocument, loadDocument } from '#sim/document/index.ts';
import { beforeAll, describe, expect, test } from 'vitest';
import { plain } from '../../support/circuit-issues.ts';
import { documentOf } from '../../support/documents.ts';
import { capture } from '../../support/example-capture.ts';
import { map, sweep } from '../../support/example-studies.ts';
import { trace } from '../../support/example-trace.ts';

const values = { 'U1.family': 'ideal', 'R1.tolerance': '5 %', 'C1.tolerance': '20 %' };
const width = { width: 'width(out)' };
const page = [
  { id: 'look', kind: 'trace', board: 'lamp', until: '6 s', show: ['timing', 'out'] },
  {
    id: 'kits',
    kind: 'spread',
    board: 'lamp',
    until: '10 s',
    take: width,
    limits: { width: ['4 s', '5 s'] },
    samples: 50,
  },
  {
    id: 'rule',
    kind: 'claim',
    board: 'lamp',
    until: '100 * R1 * C1 + 2 s',
    says: 'width(out) <= 1.1 * R1 * C1 within 1 %',
    over: { R1: { from: '10 kΩ', to: '1 MΩ', series: 'E6' }, 'U1.family': ['ideal', 'bipolar'] },
    trials: 5,
  },
  {
    id: 'curve',
    kind: 'map',
    board: 'lamp',
    until: '9 s',
    x: { value: 'R1', values: ['100 kΩ', '200 kΩ'] },
    y: { value: 'C1', values: ['1 µF', '20 µF'] },
    take: width,
  },
  { id: 'numbers', kind: 'reading', board: 'lamp', until: '6 s', take: width },
  {
    ...{ id: 'values', kind: 'choose', board: 'lamp', until: '12 s' },
    want: { width: { reading: 'width(out)', value: '4.5 s', within: '5 %' } },
    adjust: { R1: { series: 'E12', from: '100 kΩ', to: '1 MΩ' }, C1: ['10 µF'] },
  },
  {
    ...{ id: 'kit', kind: 'swaps', board: 'lamp', until: '12 s', take: { ...width, lamp: 'peak_current(D1)' } },
    parts: { R3: ['680 Ω', '47 Ω'], C1: ['10 µF', '10.1 µF'] },
  },
  { id: 'bench', kind: 'symptoms', board: 'lamp', until: '20 s', take: width },
];

let results: Readonly<Record<string, CellResult>> = {};
beforeAll(async () => {
  const { document, formulas } = await loadDocument(
    JSON.stringify(documentOf({ lamp: { ready: 'monostable', values } }, page)),
  );
  if (document === undefined) throw new Error('cannot be used');
  results = computeDocument(document, { formulas, claims: await claimTrialsFor(document) }).results;
}, 60_000);

const drawn: readonly (readonly [string, () => CellResult | undefined])[] = [
  ['a trace', () => results['look']],
  ['a trace with fates', () => trace],
  ['a sweep', () => sweep],
  ['a map of regions', () => map],
  ['a map on a scale', () => results['curve']],
  ['a spread', () => results['kits']],
  ['a claim', () => results['rule']],
  ['a choice', () => results['values']],
  ['a kit', () => results['kit']],
  ['faults', () => results['bench']],
  ['a measurement', () => ({ ...capture, sentences: { ...capture.sentences, reading: ['Read from lamp.csv.'] } })],
];

function svgOf(result: CellResult | undefined): string {
  const text = result && cellSvg(result);
  if (text === undefined) throw new Error('there must be a chart');
  return text;
}

/** The elements of an XML text that are open at its end, or where the first of them is closed that is not. */
function unbalanced(text: string): string[] {
  const open: string[] = [];
  for (const [, close, name = '', own] of text.matchAll(/<(\/)?([A-Za-z]+)[^<>]*?(\/)?>/g)) {
    if (close === undefined && own === undefined) open.push(name);
    else if (close !== undefined && open.pop() !== name) return [`/${name}`];
  }
  return open;
}

describe('cellSvg(result)', () => {
  test.each(drawn)('makes of %s a file that stands alone', (_, result) => {
    const text = svgOf(result());
    expect(text).toMatch(/^<svg xmlns="http:\/\/www\.w3\.org\/2000\/svg" width="\d+" height="\d+" viewBox="-16 -16 /);
    expect(text).toMatch(/<title id="title">[^<]+<\/title>\n<desc id="desc">[^<]+<\/desc>/);
    expect(unbalanced(text)).toEqual([]);
    expect(text.replace('http://www.w3.org/2000/svg', '')).not.toMatch(
      /http|script|@import|var\(|undefined|NaN|Infinity/,
    );
  });

  test.each(drawn)('dresses every class of %s, and has every pattern it fills with', (_, result) => {
    const text = svgOf(result());
    const [, sheet = '', drawing = ''] = /<style>([^]*)<\/style>([^]*)$/.exec(text) ?? [];
    const classes = new Set([...drawing.matchAll(/ class="([^"]+)"/g)].flatMap(([, names = '']) => names.split(' ')));
    // What is not dressed by itself is a part of something that is, or a group.
    const bare = [...classes].filter((name) => !new RegExp(`\\.${name}[\\s{,.]`).test(sheet));
    expect(bare.filter((name) => !['axis', 'ignored', 'holds', 'readout', 'net'].includes(name))).toEqual([]);
    for (const [, id] of text.matchAll(/url\(#(\w+)\)/g)) expect(drawing).toContain(`id="${id}"`);
  });

  test.each(drawn)('keeps all texts of %s inside of the picture', (_, result) => {
    const text = svgOf(result());
    const [wide = 0, high = 0] = (/width="(\d+)" height="(\d+)"/.exec(text) ?? []).slice(1).map(Number);
    for (const [, x, y] of text.matchAll(/<text[^>]* x="([^"]+)" y="([^"]+)"/g)) {
      expect(Number(x)).toBeGreaterThanOrEqual(-16);
      expect(Number(x)).toBeLessThanOrEqual(wide - 16);
      expect(Number(y)).toBeLessThanOrEqual(high - 16);
    }
  });

  test('says what it shows, and what was found, in words', () => {
    expect(svgOf(sweep)).toContain('<title id="title">ratio, width of drawer over G1 period</title>');
    expect(svgOf(sweep)).toContain('<desc id="desc">Made by hand.</desc>');
    expect(plain(svgOf(results['look']))).toMatch(
      /<desc id="desc">timing, out of lamp from 0 s to 6\.00 s\. Pulses at U1: 1 started/,
    );
    expect(svgOf(results['rule'])).toContain('width(out) &lt;= 1.1 * R1 * C1 within 1 %');
    expect(svgOf(results['rule'])).toContain('>it fails</text>');
  });

  test('draws sets, combinations and faults as rows with their readings', () => {
    const choice = plain(svgOf(results['values']));
    expect(choice).toContain('>R1 390 kΩ, C1 10 µF</text>');
    // R C ln 3 of 390 kΩ and 10 µF (closed form): 4.2846 s, which is within 5 % of 4.5 s.
    expect(choice).toContain('>4.285 s</text>');
    for (const words of ['grants all that is wanted', 'does not', 'what is wanted', 'what is allowed']) {
      expect(choice).toContain(`>${words}</text>`);
    }
    const kit = plain(svgOf(results['kit']));
    expect(kit).toMatch(/class="row-name harm"[^>]*>R3 47 Ω, C1 10 µF<\/text>/);
    for (const words of ['not run', 'must not be built', 'cannot be told from an earlier one']) {
      expect(kit).toContain(`>${words}</text>`);
    }
    const bench = plain(svgOf(results['bench']));
    for (const words of ['R1 open or missing', 'none', 'as built', 'computed only: do not build']) {
      expect(bench).toContain(`>${words}</text>`);
    }
  });

  test('has a legend of what occurs, and of nothing else', () => {
    const text = svgOf(sweep);
    for (const words of [
      'started an interval',
      'ignored, interval running',
      'held the output on',
      'the board as it stands',
    ]) {
      expect(text).toContain(`>${words}</text>`);
    }
    expect(text).not.toContain('>barred by reset</text>');
    expect(svgOf(map)).toContain('>not the same from output to output</text>');
    expect(plain(svgOf(results['curve']))).toMatch(/>width from 200 ms to 4\.39 s, each colour by the same factor</);
  });

  test('draws boundaries as they were before, with a legend, where it is given any', () => {
    const before = mapSvg(map, ({ left, bottom }) => [`M${left} ${bottom}H200`]) ?? '';
    expect(before).toMatch(/<path class="former" d="M\d+ \d+H200"\/>/);
    expect(before).toContain('>boundaries before the last change</text>');
    expect(mapSvg(map, () => [])).toBe(svgOf(map));
    expect(svgOf(map)).not.toContain('class="former"');
  });

  test('is the same every time', () => {
    expect(svgOf(results['kits'])).toBe(svgOf(results['kits']));
  });

  test('draws what a stopped study has, and nothing where there is nothing', () => {
    const error = { message: 'stopped', where: 'page[0]' };
    expect(cellSvg({ kind: 'sweep', ok: false, error, partial: sweep })).toBe(cellSvg(sweep));
    expect(cellSvg({ kind: 'sweep', ok: false, error })).toBe(undefined);
    expect(cellSvg({ ...sweep, x: [], series: [], marks: [] })).toBe(undefined);
    expect(cellSvg(results['numbers']!)).toBe(undefined);
  });
});
