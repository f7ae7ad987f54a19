import { documentStudies } from '../src/document/document-studies.ts';
import { parseDocument } from '../src/document/parse-document.ts';
import { preferredPoints } from '../src/study/axis.ts';

/** What each ready board is asked over which window. */
const KITS = {
  monostable: { until: '20 s', take: { width: 'width(out)' } },
  'frequency divider': { until: '4 s', take: { ratio: 'ratio(out, in)' } },
} as const;

/**
 * All combinations of resistors and capacitors of a ready board, as a swaps cell computes them, judged and watched for
 * remarks; what it took.
 *
 * @param size resistors, and as many capacitors.
 */
export function kitOf(ready: keyof typeof KITS, size: number): string {
  const [resistors, capacitors] = [preferredPoints(10e3, 1e6, 'E192'), preferredPoints(1e-7, 1e-5, 'E192')].map((all) =>
    all.filter((_, index) => index % Math.floor(all.length / size) === 0).slice(0, size),
  );
  const board = { ready, values: { 'U1.family': 'ideal' } };
  const cell = { id: 'kit', kind: 'swaps', board: 'kit', ...KITS[ready], parts: { R1: resistors, C1: capacitors } };
  const page = { format: 'two-thirds', version: 1, boards: { kit: board }, page: [cell] };
  const { document } = parseDocument(JSON.stringify(page));
  const [found] = document === undefined ? [] : documentStudies(document);
  if (found === undefined) throw new Error('kitOf: the document must have a study; got none.');
  const { study } = found;
  // What else a machine does makes jobs dearer, never cheaper: the least one, once everything is warm, is what a job takes.
  let least = Infinity;
  const before = process.cpuUsage();
  for (let index = 0; index < study.jobCount; index++) {
    const start = process.hrtime.bigint();
    study.run(index);
    least = Math.min(least, Number(process.hrtime.bigint() - start) / 1e3);
  }
  const { user, system } = process.cpuUsage(before);
  const seconds = (user + system) / 1e6;
  const count = size * size;
  const each = (least * study.jobCount) / count;
  return [
    `${count} combinations of a ${ready} in ${seconds.toFixed(1)} s of the processor;`,
    `by the least job ${each.toFixed(0)} us each, so 10 000 in ${(each / 100).toFixed(1)} s on a quiet machine`,
  ].join(' ');
}
