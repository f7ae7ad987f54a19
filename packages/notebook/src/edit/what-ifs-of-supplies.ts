import { typedQuantity } from '@two-thirds/sim/quantity';
import type { Json } from './json.ts';
import { listed, type NamedPart, quantityOf } from './named-parts.ts';
import type { WhatIf, WhatIfGroup } from './what-if.ts';
import { BOUNCES, CELL, MADE_AT, SLOW_RISE, TIRED_CELL_RESISTANCE } from './what-if-figures.ts';
import type { AskedValue } from './what-if-mark.ts';

/** A battery whose cells are tired in the place of a supply: less voltage, more resistance. @param volts what it gives now. */
export function tiredBattery(name: string, volts: number): WhatIf {
  const cells = Math.max(1, Math.round(volts / CELL.fresh));
  const voltage = text(cells * CELL.tired, 'V');
  const resistance = text(cells * TIRED_CELL_RESISTANCE, 'Ω');
  return {
    key: 'tired battery',
    words: 'what a tired battery gives',
    told: `a tired battery as ${name}`,
    label: `${name} to a tired battery`,
    notes: [
      `Tired: ${cells} ${cells === 1 ? 'cell' : 'cells'} with ${text(CELL.tired, 'V')} and ${text(TIRED_CELL_RESISTANCE, 'Ω')} left in each, ${voltage} behind ${resistance}; common practice, no source. Small cells have more resistance, large ones less.`,
    ],
    values: [
      { part: name, steps: ['voltage'], value: voltage },
      { part: name, steps: ['resistance'], value: resistance },
    ],
  };
}

/** How power may come up: with the latches either way, and with a supply that is not there at once. */
export function powerUpWhatIfs(
  supply: NamedPart | undefined,
  timers: readonly NamedPart[],
  hasSignals: boolean,
): WhatIfGroup {
  const starts: AskedValue[] = timers.map(({ name }) => ({ part: name, steps: ['start'], value: 'both' }));
  const volts = supply === undefined ? undefined : quantityOf(supply, 'voltage', 'V');
  const isSteady = supply !== undefined && volts !== undefined && supply['changes'] === undefined;
  const latches = `Computed with the latch of ${listed(timers)} cleared and set; real ones start either way.`;
  const early = hasSignals ? ['Signals are there from the start, also before the supply is.'] : [];
  const notes = [latches, ...early];
  const both: WhatIf = {
    key: 'start both',
    words: 'with its latch either way',
    told: 'power that finds the latch either way',
    label: 'power-up with the latch either way',
    notes: [latches],
    values: starts,
  };
  return {
    about: 'power-up',
    before: 'power came up',
    offers:
      timers.length === 0
        ? []
        : [
            ...(timers.every((timer) => timer['start'] === 'both') ? [] : [both]),
            ...(isSteady ? [slow(supply.name, volts, starts, notes), bouncing(supply.name, volts, starts, notes)] : []),
          ],
  };
}

function slow(name: string, volts: number, starts: readonly AskedValue[], more: readonly string[]): WhatIf {
  // A step to nothing at 0 rather than a supply of 0 V: what counts as high is told by the supply's own voltage.
  const changes = [
    { at: '0 s', voltage: '0 V' },
    { at: text(FIRST_MOMENT, 's'), voltage: text(volts, 'V'), over: text(SLOW_RISE, 's') },
  ];
  return {
    key: 'slow supply',
    words: 'slowly',
    told: `${name} coming up slowly`,
    label: `${name} coming up slowly`,
    notes: [`${name} rises from 0 V within ${text(SLOW_RISE, 's')}; common practice, no source.`, ...more],
    values: [{ part: name, steps: ['changes'], value: changes }, ...starts],
  };
}

function bouncing(name: string, volts: number, starts: readonly AskedValue[], more: readonly string[]): WhatIf {
  const [on, off] = [text(volts, 'V'), '0 V'];
  const changes: Json[] = [
    { at: '0 s', voltage: off },
    ...BOUNCES.flatMap(([makes, breaks]) => [
      { at: text(makes, 's'), voltage: on },
      { at: text(breaks, 's'), voltage: off },
    ]),
    { at: text(MADE_AT, 's'), voltage: on },
  ];
  return {
    key: 'bouncing supply',
    words: 'bouncing',
    told: `${name} coming up through a switch that bounces`,
    label: `${name} bouncing at power-up`,
    notes: [
      `${name} is there and gone ${BOUNCES.length} times before it stays at ${text(MADE_AT, 's')}; common practice, no source. While it is gone it holds its net at 0 V, which a switch would leave open.`,
      ...more,
    ],
    values: [{ part: name, steps: ['changes'], value: changes }, ...starts],
  };
}

/** When a slow supply begins to rise, s: after its step to nothing. */
const FIRST_MOMENT = 1e-6;

function text(value: number, unit: 'V' | 'Ω' | 's'): string {
  return typedQuantity(Number(value.toPrecision(6)), unit);
}
