import { formatQuantity, typedQuantity, type Unit } from '@two-thirds/sim/quantity';
import { listed, type NamedPart, quantityOf } from './named-parts.ts';
import type { WhatIf, WhatIfGroup } from './what-if.ts';
import { ELECTROLYTIC, ELECTROLYTIC_FROM } from './what-if-figures.ts';
import type { AskedValue } from './what-if-mark.ts';

/** Electrolytics as they really are: leaking, with a resistance in series, and not what is printed on them. */
export function electrolyticWhatIfs(parts: readonly NamedPart[]): WhatIfGroup {
  const capacitors = parts.filter(isElectrolytic);
  const names = listed(capacitors);
  const { tolerance } = ELECTROLYTIC;
  const share = formatQuantity(tolerance, 'share', { exact: true });
  const offer = (key: string, words: string, factor: number): WhatIf => ({
    key: `electrolytic ${key}`,
    words,
    told: `${names} really electrolytic, ${words}`,
    label: `${names} really electrolytic, ${words}`,
    notes: [
      `Real electrolytics: a leakage of 0.01 C V in a second, the limit of many catalogues, written as a resistance (${capacitors.map((part) => figures(part, factor)).join('; ')}); in series what a loss factor of ${ELECTROLYTIC.lossFactor} at ${ELECTROLYTIC.lossAt} Hz makes; within ${share} of their marking. All from memory; most leak far less than the limit. The data sheet of yours decides.`,
    ],
    values: capacitors.flatMap((part) => realValues(part, factor)),
  });
  return {
    about: 'electrolytic',
    before: `${names} ${capacitors.length > 1 ? 'were real electrolytics' : 'were a real electrolytic'},`,
    offers:
      capacitors.length === 0
        ? []
        : [
            offer('as marked', 'as marked', 1),
            offer('weak', `${share} less`, 1 - tolerance),
            offer('strong', `${share} more`, 1 + tolerance),
          ],
  };
}

function realValues(part: NamedPart, factor: number): AskedValue[] {
  const { name } = part;
  const farads = (quantityOf(part, 'capacitance', 'F') ?? 0) * factor;
  const values: AskedValue[] = [
    { part: name, steps: ['leakage'], value: leakage(farads) },
    { part: name, steps: ['series'], value: series(farads) },
  ];
  if (part['tolerance'] === undefined)
    values.push({ part: name, steps: ['tolerance'], value: text(ELECTROLYTIC.tolerance, 'share') });
  if (factor !== 1) values.push({ part: name, steps: ['capacitance'], value: text(farads, 'F') });
  return values;
}

function figures(part: NamedPart, factor: number): string {
  const farads = (quantityOf(part, 'capacitance', 'F') ?? 0) * factor;
  return `${part.name}: ${leakage(farads)} across, ${series(farads)} in series`;
}

/** What lets through so much that it would empty the capacitor in {@link ELECTROLYTIC} seconds. */
function leakage(farads: number): string {
  return text(Number((ELECTROLYTIC.leaksIn / farads).toPrecision(2)), 'Ω');
}

/** R = D / (2 π f C), with the loss factor D. */
function series(farads: number): string {
  const { lossFactor, lossAt } = ELECTROLYTIC;
  return text(Number((lossFactor / (2 * Math.PI * lossAt * farads)).toPrecision(2)), 'Ω');
}

function isElectrolytic(part: NamedPart): boolean {
  if (part['kind'] !== 'capacitor') return false;
  const farads = quantityOf(part, 'capacitance', 'F');
  const isMarked = part['polarised'] === true;
  return (
    farads !== undefined && farads > 0 && (isMarked || (part['polarised'] === undefined && farads >= ELECTROLYTIC_FROM))
  );
}

function text(value: number, unit: Unit): string {
  return typedQuantity(Number(value.toPrecision(6)), unit);
}
