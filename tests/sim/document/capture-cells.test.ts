import { type CaptureResult, documentStudies } from '#sim/document/index.ts';
import { beforeAll, describe, expect, test } from 'vitest';
import { plain } from '../../support/circuit-issues.ts';
import { computed, documentOf, issuesOf, resultOf, usable } from '../../support/documents.ts';
import { lampRows } from '../../support/lamp-capture.ts';

const values = { C1: '47 µF', 'C1.tolerance': '20 %', 'R1.tolerance': '1 %' };
const boards = { lamp: { ready: 'monostable', values } };
const data = lampRows();
const cell = { id: 'bench', kind: 'capture', board: 'lamp', until: '40 s', data };

function withCell(more: object): unknown {
  return documentOf(boards, [{ ...cell, ...more }]);
}

// Every run takes several milliseconds of a processor, and there are some hundred.
describe('computeDocument(document): captures', { timeout: 120_000 }, () => {
  let result: CaptureResult;
  beforeAll(() => {
    result = resultOf(computed(withCell({ adjust: ['C1'] })), 'bench', 'capture');
  }, 120_000);

  test('lays the measurement over the prediction', () => {
    const { rows, malformed, offset, times, nets, edges, level, hysteresis } = result;
    expect([rows, malformed.count, times.length]).toEqual([240, 0, 240]);
    // Half of 12 V, and a tenth of that.
    expect([level, hysteresis]).toEqual([6, expect.closeTo(0.6, 12)]);
    expect(nets.map(({ net, role }) => [net, role])).toEqual([
      ['timing', 'course'],
      ['out', 'logic'],
    ]);
    // The first sample is taken 0.6 s after the run begins; edges are known to half a sample, 62.5 ms.
    expect(Math.abs((offset ?? 0) - 0.6)).toBeLessThan(0.0626);
    const [rise, ...others] = edges.filter(({ net }) => net === 'out');
    expect(rise?.residual).toBe(0);
    // R1 C1 ln 3 is 2.83 s longer with 53.6 µF than with 47 µF (closed form); known to a sample.
    expect(Math.abs((others[0]?.residual ?? 0) + 2.83)).toBeLessThan(0.13);
    expect(nets[0]?.predicted).toHaveLength(240);
  });

  test('takes what is only rounding for no difference, whatever the time of the file', () => {
    const late = (by: number): string =>
      [
        'time_s,out_V',
        ...Array.from({ length: 300 }, (_, k) => `${0.1 * k + by},${k > 4 && k < 205 ? 10.7 : 0.1}`),
      ].join('\n');
    const firsts = [1.9e3, 77.7, 12.9].map((by) => {
      const { edges } = resultOf(computed(withCell({ data: late(by), until: '40 s' })), 'bench', 'capture');
      return edges[0]?.residual;
    });
    expect(firsts).toEqual(firsts.map(() => 0));
  });

  test('calls it nothing where a suspect leaves nothing but rounding', () => {
    // Two edges and one value: it fits exactly.
    const rows = [
      'time_s,out_V',
      ...Array.from({ length: 300 }, (_, k) => `${0.1 * k},${k > 4 && k < 225 ? 10.7 : 0.1}`),
    ];
    const { explanations } = resultOf(computed(withCell({ data: rows.join('\n') })), 'bench', 'capture');
    expect(explanations[0]?.explains).toBe('full');
    expect(plain(explanations[0]?.sentence ?? '')).toMatch(/\. Nothing is left: 2 edges 0 s apart \(root/);
  });

  test('estimates what was asked for', () => {
    const [estimate] = result.fit?.estimates ?? [];
    expect(estimate).toMatchObject({ name: 'C1', unit: 'F', marked: 47e-6 });
    // The measurement was made with 53.6 µF.
    expect(estimate?.low).toBeLessThan(53.6e-6);
    expect(estimate?.high).toBeGreaterThan(53.6e-6);
    expect(plain(result.sentences.fit.join(' '))).toMatch(
      /^C1 is 53\.\d+ µF with a standard uncertainty of .* 14 % above what is stated/,
    );
  });

  test('ranks explanations and says what would tell them apart', () => {
    const [first, second, ...others] = result.explanations;
    expect(first).toMatchObject({ kind: 'capacitance', part: 'C1', explains: 'full', asGoodAsFirst: true });
    expect(plain(first!.sentence)).toMatch(
      /^C1 would have to be 53\.\d+ µF, 14 % above its mark, inside its tolerance of 20 %\. /,
    );
    expect(second).toMatchObject({ kind: 'resistance', part: 'R1', explains: 'full', asGoodAsFirst: true });
    expect(plain(second!.sentence)).toContain('14 % above its mark, outside its tolerance of 1 %');
    expect(others.filter(({ asGoodAsFirst }) => asGoodAsFirst)).toEqual([]);
    expect(others.map(({ kind }) => kind)).toEqual(expect.arrayContaining(['leakage', 'probe', 'supply', 'family']));
    // A leak across C1 and a load at its net are one and the same circuit.
    const [leak, probe] = ['leakage', 'probe'].map((kind) => others.find((each) => each.kind === kind));
    expect(leak!.value! / probe!.value!).toBeCloseTo(1, 3);
    // R1 C1 ln 3 with 780 kΩ: 45.9 s with 53.6 µF, 40.3 s with 47 µF (closed form, ideal timer; this one adds a little).
    const words = plain(result.sentences.apart.join(' '));
    const [, a, b] =
      /of R1 explain.*With a resistor of 780 kΩ in place of R1, out would be high for ([\d.]+) s.* for ([\d.]+) s/.exec(
        words,
      )!;
    expect(Math.abs(Number(a) / 45.93 - 1)).toBeLessThan(0.01);
    expect(Math.abs(Number(b) / 40.27 - 1)).toBeLessThan(0.01);
  });

  test('says what to be careful of', () => {
    expect(result.cautions.join(' ')).toContain("An oscilloscope's ground clip is usually mains earth");
    expect(result.cautions.join(' ')).toContain('Never measure mains circuits');
  });

  test('gives the same from jobs in another order, and parts of it from some', () => {
    const document = usable(withCell({ adjust: ['C1'] }));
    const [found] = documentStudies(document);
    const { study } = found!;
    const order = Array.from({ length: study.jobCount }, (_, index) => study.jobCount - 1 - index);
    const jobs = new Map(order.map((index) => [index, JSON.parse(JSON.stringify(study.run(index))) as unknown]));
    expect(study.collect(jobs)).toEqual(result);
    const some = study.collect(new Map([...jobs].filter(([index]) => index === 0))) as CaptureResult;
    expect(some).toMatchObject({ edges: result.edges, fit: null, explanations: [] });
    expect(some.share).toBeCloseTo(1 / study.jobCount, 12);
    const none = study.collect(new Map()) as CaptureResult;
    expect(none.sentences.overlay).toEqual(['The prediction is not computed yet.']);
  });

  test('keeps what there is when it is stopped', () => {
    const stopped = computed(withCell({}), { signal: { aborted: true } })['bench'];
    expect(stopped).toMatchObject({ ok: false, partial: { kind: 'capture', share: 0, rows: 240 } });
  });

  test('says by how much the file begins earlier or later than the run', () => {
    const first = (rows: string): string =>
      resultOf(computed(withCell({ data: rows })), 'bench', 'capture').sentences.overlay[0] ?? '';
    expect(first(data)).toContain('563\u202fms later');
    // Five seconds more in the file are five seconds less to be added: 0.5625 s - 5 s.
    const late = data.replace(/^\d+\.\d+/gm, (time) => String(Number(time) + 5));
    expect(first(late)).toContain('4.44\u202fs earlier');
  });

  test('says when there is nothing to explain', () => {
    const right = { lamp: { ready: 'monostable', values: { C1: '53.6 µF' } } };
    const { sentences } = resultOf(computed(documentOf(right, [cell])), 'bench', 'capture');
    expect(sentences.overlay.at(-1)).toContain('the prediction agrees with the capture within its noise');
    expect(sentences.apart).toEqual(['There is nothing to explain.']);
  });

  test('says when too little was measured to choose', () => {
    const columns = { time: 'time', out: 'out' };
    const { sentences } = resultOf(computed(withCell({ columns, adjust: ['R1', 'C1'] })), 'bench', 'capture');
    expect(sentences.fit).toEqual([
      'The values could not be estimated: the capture has too few edges and samples for so many values.',
    ]);
    expect(sentences.apart[0]).toContain('So little was measured');
  });

  test('estimates one value from two edges, with what is known of their times alone', () => {
    const columns = { time: 'time', out: 'out' };
    const { fit, sentences } = resultOf(computed(withCell({ columns, adjust: ['C1'] })), 'bench', 'capture');
    const [c1] = fit?.estimates ?? [];
    // One edge lays it over the prediction; samples are 0.125 s apart, in an interval of 23 s.
    expect(c1?.uncertainty).toBeGreaterThan(0);
    expect((c1?.uncertainty ?? NaN) / (c1?.value ?? NaN)).toBeLessThan(0.125 / 23);
    expect(c1?.low).toBeLessThan(53.6e-6);
    expect(c1?.high).toBeGreaterThan(53.6e-6);
    expect(sentences.fit[1]).toContain('nothing is left to check them by');
  });

  test('gives the reason where the two cannot be laid over each other', () => {
    const still = { columns: { time: 'time', button: 'out' }, align: 'first(button)' };
    const rows = data.replace('out_V', 'button_V').replace(/,[\d.-]+$/gm, ',0');
    const apart = computed(withCell({ ...still, columns: {}, data: rows }))['bench'] as CaptureResult;
    expect(apart.sentences.overlay[0]).toContain('the capture has no rise of button');
    expect(apart).toMatchObject({ offset: null, explanations: [] });
  });

  test.each<[object, string]>([
    [{ columns: { time: 'time', lamb: 'out' } }, 'page[0].columns.lamb: unknown-net'],
    [{ columns: { time: 'time', out: 'CH7' } }, 'page[0].columns: capture'],
    [{ columns: { time: { column: 1, units: 's' } } }, 'page[0].columns.time.units: unknown-field'],
    [{ adjust: ['R9'] }, 'page[0].adjust[0]: unknown-value'],
    [{ adjust: ['C1', 'C1.capacitance'] }, 'page[0].adjust[1]: double-name'],
    [{ adjust: ['C1.initial'] }, 'page[0].adjust[0]: out-of-range'],
    [{ adjust: ['U1'] }, 'page[0].adjust[0]: unknown-value'],
    [{ align: 'width(out)' }, 'page[0].align: capture'],
    [{ align: 'first(lamb)' }, 'page[0].align: capture'],
    [{ align: 'somehow' }, 'page[0] (bench): align: not-a-reading'],
    [{ data: 'a\nb\n' }, 'page[0].data: capture'],
  ])('refuses %j', (more, issue) => {
    expect(issuesOf(withCell(more))).toEqual([issue]);
  });

  test('says what to do about a file that nobody has read', () => {
    expect(issuesOf(withCell({ data: 'lamp.csv' }))).toEqual([]);
    const found = computed(withCell({ data: 'lamp.csv' }))['bench'];
    expect(found).toMatchObject({ ok: false, error: { where: 'page[0].data' } });
    expect(found?.ok === false && found.error.message).toContain('only the name of a file, "lamp.csv"');
  });
});
