import { madeCapture } from './made-capture.ts';
import { monostable } from '#sim/board/monostable.ts';

/** The capacitance (F) that the platform lamp of the made-up measurement has, where 47 µF is marked. */
const HIDDEN_CAPACITANCE = 53.6e-6;

/**
 * The rows of the worked example about the platform lamp on the bench: computed with another capacitance than marked, sampled
 * eight times a second with noise of 30 mV, and written as an instrument of 10 mV resolution would. Nobody measured them.
 */
export function lampRows(): string {
  const parts = monostable.circuit.parts.map((part) =>
    part.name === 'C1' ? { ...part, capacitance: HIDDEN_CAPACITANCE } : part,
  );
  const made = { nets: ['timing', 'out'], from: 0.6, until: 30.6, step: 0.125, noise: 0.03, seed: 1910, begins: 0 };
  const [titles = '', ...rows] = madeCapture({ parts }, made).trimEnd().split('\n');
  const rounded = rows.map((row) =>
    row
      .split(',')
      .map((field, column) => Number(field).toFixed(column === 0 ? 3 : 2))
      .join(','),
  );
  return ['# made up: computed, with noise from a seed', titles, ...rounded].join('\n');
}
