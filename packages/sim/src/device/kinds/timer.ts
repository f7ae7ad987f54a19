import type { PartKind } from '../../circuit/description.ts';
import { choice } from '../../field/value-readers.ts';
import { formatQuantity } from '../../quantity/index.ts';
import { timerFamilies, timerParameters } from '../families.ts';
import { readParameterChanges } from '../read-parameters.ts';
import type { TimerFamily, TimerParameters } from '../timer-parameters.ts';

/** A timer. `control`, `reset` and `discharge` may be left out; RESET then reads as tied to the supply. */
export const timer: PartKind = {
  kind: 'timer',
  title: 'timer',
  netsUnder: 'pins',
  terminals: [
    { name: 'supply', required: true },
    { name: 'ground', required: true },
    { name: 'trigger', required: true },
    { name: 'output', required: true, mayStandAlone: true },
    { name: 'threshold', required: true },
    { name: 'control', required: false, mayStandAlone: true },
    { name: 'reset', required: false },
    { name: 'discharge', required: false },
  ],
  fields: [
    {
      name: 'family',
      title: 'family',
      default: 'bipolar',
      source: 'the most common family, until stated',
      read: choice(timerFamilies),
    },
    {
      name: 'start',
      title: 'state at the start',
      default: 'cleared',
      source: 'output low until stated',
      read: choice(['cleared', 'set', 'both']),
    },
    {
      name: 'with',
      title: 'parameters other than those of its family',
      default: {},
      source: 'as its family until stated',
      read: readParameterChanges,
    },
  ],
  apart: [['ground', 'supply']],
  // The inputs hold nothing: their bias currents only shift what something else holds.
  paths: () => [
    ['supply', 'ground'],
    ['supply', 'control'],
    ['control', 'ground'],
    ['supply', 'output'],
    ['output', 'ground'],
    ['discharge', 'ground'],
  ],
  steadyPaths: () => [
    ['supply', 'ground'],
    ['supply', 'control'],
    ['control', 'ground'],
    ['supply', 'output'],
    ['output', 'ground'],
  ],
  sources: () => [],
  derive: (values) => {
    const changes = values.with as Partial<TimerParameters>;
    const parameters = timerParameters(values.family as TimerFamily, changes);
    const { supplyMinimum, supplyMaximum } = parameters;
    if (supplyMinimum <= supplyMaximum) return { ok: true, values: { parameters } };
    const [least, greatest] = [supplyMinimum, supplyMaximum].map((volts) =>
      formatQuantity(volts, 'V', { exact: true }),
    );
    const message = `must not be above supplyMaximum, ${greatest}; got ${least}. Change one of the two.`;
    return { ok: false, field: 'with', path: '.supplyMinimum', message };
  },
};
