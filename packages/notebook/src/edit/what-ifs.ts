import { timerFamilies, type TimerFamily, timerParameters } from '@two-thirds/sim/document';
import { formatQuantity, typedQuantity } from '@two-thirds/sim/quantity';
import { boardNames } from './board-names.ts';
import { timerNets } from './board-start.ts';
import { boardParts } from './board-values.ts';
import { isRecord, type Json } from './json.ts';
import { isNamed, listed, type NamedPart, quantityOf } from './named-parts.ts';
import type { WhatIf, WhatIfGroup } from './what-if.ts';
import { BATTERY_VOLTAGES, INSTRUMENTS, SUPPLY_VOLTAGES } from './what-if-figures.ts';
import type { AskedValue } from './what-if-mark.ts';
import { electrolyticWhatIfs } from './what-ifs-of-capacitors.ts';
import { powerUpWhatIfs, tiredBattery } from './what-ifs-of-supplies.ts';

/** Everything that can be asked of a board at one press, as it stands in the document. @param net where an instrument goes. */
export function whatIfs(document: Json, board: string, net: string | undefined): readonly WhatIfGroup[] {
  const parts = boardParts(document, board).filter(isNamed);
  const timers = parts.filter((part) => part['kind'] === 'timer');
  const supply = feedingSupply(parts, timers[0]);
  return [
    familyGroup(timers),
    ...(supply === undefined ? [] : [supplyGroup(parts, supply, timers)]),
    instrumentGroup(document, board, net),
    powerUpWhatIfs(
      supply,
      timers,
      parts.some(({ kind }) => kind === 'signal'),
    ),
    electrolyticWhatIfs(parts),
  ].filter((group) => group.offers.length > 0);
}

/** The net where an instrument is laid unless somebody chooses another: that of the timing capacitor. */
export function usualNet(document: Json, board: string): string | undefined {
  const { nets } = boardNames(document, board);
  return timerNets(document, board)['threshold'] ?? nets.find((net) => net !== 'ground');
}

function familyGroup(timers: readonly NamedPart[]): WhatIfGroup {
  const names = listed(timers);
  const family = (timer: NamedPart): Json => timer['family'] ?? 'bipolar';
  // The ideal one, which nobody can buy, comes last.
  const others = [...timerFamilies]
    .sort((one, other) => Number(one === 'ideal') - Number(other === 'ideal'))
    .filter((each) => timers.some((timer) => family(timer) !== each));
  return {
    about: 'timer',
    before: `${names} ${timers.length > 1 ? 'were all' : 'were'}`,
    offers: others.map((to) => ({
      key: `family ${to}`,
      words: to,
      told: `${names} of the family ${to}`,
      label: `${names} to ${to}`,
      notes: [],
      values: timers.map(({ name }) => ({ part: name, steps: ['family'], value: to })),
    })),
  };
}

function supplyGroup(parts: readonly NamedPart[], supply: NamedPart, timers: readonly NamedPart[]): WhatIfGroup {
  const { name } = supply;
  const now = quantityOf(supply, 'voltage', 'V');
  const isBattery = supply['origin'] === 'battery';
  const others = (isBattery ? BATTERY_VOLTAGES : SUPPLY_VOLTAGES).filter(
    (volts) => volts !== now && timers.every((timer) => isWithinLimits(timer, volts)),
  );
  const steady = supply['changes'] === undefined;
  return {
    about: 'supply',
    before: `${name} gave`,
    offers: [
      ...others.map((volts): WhatIf => {
        const text = typedQuantity(volts, 'V');
        const follow = now === undefined ? [] : followingLevels(parts, now, text);
        const followers = [...new Set(follow.map(({ part }) => part))];
        const what = isBattery ? 'Batteries of cells of 1.5 V usually have' : 'Supplies usually have';
        return {
          key: `supply ${text}`,
          words: formatQuantity(volts, 'V', { exact: true }),
          told: `${name} at ${text}`,
          label: `${name} to ${text}`,
          notes: [
            `${what} one of these voltages; common practice, no source.`,
            ...(followers.length === 0
              ? []
              : [`Levels of ${followers.join(' and ')} that were as high as ${name} follow it.`]),
          ],
          values: [{ part: name, steps: ['voltage'], value: text }, ...follow],
        };
      }),
      ...(now === undefined || !steady ? [] : [tiredBattery(name, now)]),
    ],
  };
}

/** Levels of signals that are as high as the supply: what makes them is fed by it, as far as anybody can tell. */
function followingLevels(parts: readonly NamedPart[], now: number, to: string): AskedValue[] {
  return parts
    .filter(({ kind }) => kind === 'signal')
    .flatMap((part) => {
      const wave = isRecord(part['wave']) ? part['wave'] : {};
      return ['rest', 'pulse', 'high', 'low', 'level']
        .filter((level) => now !== 0 && quantityOf(wave, level, 'V') === now)
        .map((level) => ({ part: part.name, steps: ['wave', level], value: to }));
    });
}

function isWithinLimits(timer: NamedPart, volts: number): boolean {
  const family = timerFamilies.find((each) => each === timer['family']) ?? ('bipolar' satisfies TimerFamily);
  const own = isRecord(timer['with']) ? timer['with'] : {};
  const { supplyMinimum, supplyMaximum } = timerParameters(family);
  const least = quantityOf(own, 'supplyMinimum', 'V') ?? supplyMinimum;
  const greatest = quantityOf(own, 'supplyMaximum', 'V') ?? supplyMaximum;
  return volts >= least && volts <= greatest;
}

function instrumentGroup(document: Json, board: string, net: string | undefined): WhatIfGroup {
  const at = net ?? usualNet(document, board);
  return {
    about: 'instrument',
    before: '',
    offers:
      at === undefined
        ? []
        : INSTRUMENTS.map(({ key, words, about, resistance, capacitance }) => ({
            key: `${key} ${at}`,
            words,
            told: `${words} on ${at}`,
            label: `${words} on ${at}`,
            notes: [`${about} has about ${resistance} and, with its lead, ${capacitance}; common practice, no source.`],
            values: [],
            adds: { letters: 'P', part: { kind: 'probe', a: at, b: 'ground', resistance, capacitance } },
          })),
  };
}

/** The supply that feeds the first timer, else the first. */
function feedingSupply(parts: readonly NamedPart[], timer: NamedPart | undefined): NamedPart | undefined {
  const supplies = parts.filter(({ kind }) => kind === 'supply');
  const pins = timer !== undefined && isRecord(timer['pins']) ? timer['pins'] : {};
  return supplies.find((each) => each['plus'] === pins['supply']) ?? supplies[0];
}
