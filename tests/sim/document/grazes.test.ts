import { expect, test } from 'vitest';
import { computeDocument, parseDocument } from '#sim/document/index.ts';
import { plain } from '../../support/circuit-issues.ts';
import { documentOf, resultOf } from '../../support/documents.ts';
import { lowPulses, monostable, signal } from '../../support/timer-circuits.ts';

/** The reading of a platform lamp whose leaking capacitor tends to a share more than its limit. */
function grazesOf(share: number): readonly string[] | undefined {
  const parts = [
    ...monostable({ voltage: 9, resistance: 10e3, capacitance: 1e-6, ofCapacitor: { leakage: 20e3 * (1 + share) } }),
    signal('G1', 'in', lowPulses(9, { period: 1, width: 1e-4, delay: 1e-3, count: 1 })),
  ];
  const page = [{ id: 'on', kind: 'reading', board: 'lamp', until: '1 s', take: { top: 'peak(timing)' } }];
  const { document, issues } = parseDocument(JSON.stringify(documentOf({ lamp: { parts } }, page)));
  if (document === undefined) throw new Error(issues.map(({ message }) => message).join('\n'));
  const result = resultOf(computeDocument(document).results, 'on', 'reading');
  return result.grazes;
}

test('a reading tells of a limit that is only just reached, with part, pin, time and seconds', () => {
  const said = grazesOf(1e-9)?.map(plain) ?? [];
  expect(said).toHaveLength(1);
  expect(said[0]).toMatch(
    /^U1: THRESHOLD only just reaches its limit at 1\d\d(\.\d+)? ms\. That time may be off by \d+(\.\d+)? ns, and /,
  );
});

test('it says nothing of limits that are passed as they should be', () => {
  expect(grazesOf(0.5)).toBeUndefined();
});
