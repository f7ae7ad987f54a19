import { type DocumentStudy, documentStudies } from '#sim/document/index.ts';
import { claimTrialsFor, formulasFor } from '#sim/document/index.ts';
import { describe, expect, test } from 'vitest';
import { documentOf, usable } from '../../support/documents.ts';
import { madeCapture } from '../../support/made-capture.ts';
import { astable } from '../../support/timer-circuits.ts';

/*
 * Whoever runs a study can stop it by a signal that is looked at now and then. What is promised is a tenth of a second;
 * it is counted in time of the processor, since others may use the machine, and the best of three tries counts, since the first
 * also compiles.
 */
const PROMISED = 100;
const TRIES = 3;
/** A job that is longer than this is stopped (ms). */
const ENOUGH = 1000;

const parts = astable({ voltage: 9, first: 10e3, second: 47e3, capacitance: 1e-6 });
const led = [
  { name: 'R3', kind: 'resistor', a: 'out', b: 'lit', resistance: '330 Ω' },
  { name: 'D1', kind: 'led', a: 'lit', b: 'ground', colour: 'red' },
];
const boards = {
  crossing: { parts: [...parts, ...led] },
  counter: { ready: 'frequency divider' },
  lamp: { ready: 'monostable', values: { 'R1.tolerance': '5 %', 'C1.tolerance': '20 %' } },
};
const frequency = { f: 'frequency(out)' };
const on = { board: 'crossing', until: '2 s' };
const range = { from: '1 kΩ', to: '1 MΩ' };

/** Of every kind one that has much to do in one job, in ways of its own. */
const cells = {
  sweep: { ...on, until: '3000 s', vary: { value: 'R1', ...range, steps: 8 }, take: { ...frequency, d: 'duty(out)' } },
  'map, the short way': {
    ...{ board: 'counter', until: '200000 s', take: { ratio: 'ratio(out, in)' } },
    x: { value: 'R1', from: '20 kΩ', to: '40 kΩ', steps: 2 },
    y: { value: 'G1.wave.period', from: '101 ms', to: '203 ms', steps: 2 },
  },
  map: {
    ...{ ...on, until: '500 s', take: frequency },
    x: { value: 'R1', ...range, steps: 8 },
    y: { value: 'R2', ...range, steps: 8 },
  },
  spread: { board: 'lamp', until: '20 s', take: { width: 'width(out)' }, samples: 100_000 },
  'choose, by a survey': {
    ...{ ...on, adjust: { R1: 'E24', R2: 'E24', C1: { series: 'E24', from: '1 µF', to: '10 µF' } } },
    want: { blinks: { reading: 'frequency(out)', value: '3 Hz' } },
  },
  'choose, by a rule': {
    ...{ board: 'lamp', until: '20 s', adjust: { R1: 'E96', C1: 'E96' } },
    want: { width: { reading: 'width(out)', value: '3 s' } },
  },
  claim: {
    ...{ ...on, until: '20 s', says: 'period(out) = 0.693 * (R1 + 2 * R2) * C1 within 5 %' },
    over: { R1: { ...range, series: 'E24' }, R2: { ...range, series: 'E24' } },
  },
  swaps: {
    ...{ ...on, take: frequency },
    parts: { R3: ['1 Ω', '10 Ω', '47 Ω'], R1: ['10 Ω', '1 kΩ'], 'BT1.voltage': ['9 V', '20 V'], C1: ['1 µF', '2 µF'] },
  },
  symptoms: { ...on, take: frequency, seen: { f: '5 Hz' } },
  capture: {
    ...{ ...on, until: '6 s', adjust: ['C1', 'R1'] },
    data: madeCapture({ parts }, { nets: ['timing', 'out'], from: 0, until: 5, step: 0.001, noise: 0.02, seed: 3 }),
  },
};

/** Processor time this program has used (ms). */
function spent(): number {
  const { user, system } = process.cpuUsage();
  return (user + system) / 1000;
}

async function studyOf(name: string, cell: object): Promise<DocumentStudy> {
  const document = usable(documentOf(boards, [{ id: 'one', kind: name.split(',')[0], ...cell }]));
  const [formulas, claims] = await Promise.all([formulasFor(document), claimTrialsFor(document)]);
  const [study] = documentStudies(document, { ...(formulas && { formulas }), ...(claims && { claims }) });
  if (study === undefined) throw new Error(`${name} must be a study`);
  return study;
}

describe('Study.run(index, signal)', { timeout: 120_000 }, () => {
  test.each(Object.entries(cells))(
    '%s: looks at the signal all the time, and ends once it is set',
    async (name, cell) => {
      let least = Infinity;
      for (let attempt = 0; attempt < TRIES && least >= PROMISED; attempt++) {
        const { study } = await studyOf(name, cell);
        let longest = 0;
        // The first job, and one that others must have been done for.
        const { first = 0, jobCount } = study;
        for (const index of new Set([0, first > 0 ? first : jobCount - 1])) {
          if (index === first) for (let each = 0; each < first; each++) study.run(each);
          const begun = spent();
          let last = begun;
          let isStopped = false;
          const signal = {
            get aborted() {
              const now = spent();
              longest = Math.max(longest, now - last);
              last = now;
              isStopped ||= now - begun > ENOUGH;
              return isStopped;
            },
          };
          const job = study.run(index, signal);
          // From the last look to the end; a job that was stopped gives nothing.
          longest = Math.max(longest, spent() - last);
          expect(job === undefined).toBe(isStopped);
        }
        least = Math.min(least, longest);
      }
      expect(least).toBeLessThan(PROMISED);
    },
  );
});
