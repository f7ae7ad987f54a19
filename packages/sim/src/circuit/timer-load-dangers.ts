import { listedText } from '../core/listed-text.ts';
import { type CircuitView, exactText, roundedText } from './circuit-view.ts';
import { type ConductingLink, timerLinks } from './conducting-links.ts';
import type { Part } from './description.ts';
import { loadsOn, totalCurrent } from './side-by-side.ts';

/** Loads that carry less than this share of the largest are counted, but not named. */
const WORTH_NAMING = 0.05;

/** Timers whose output or DISCHARGE would have to carry more than their family is made for. */
export function timerLoadDangers(view: CircuitView): string[] {
  return view.ofKind('timer').flatMap((part) => {
    const { high, low, discharge } = timerLinks(part);
    const limits = part.values.parameters as Partial<Record<string, number>>;
    const { outputMaximum = Infinity, outputSinkMaximum = Infinity, dischargeCurrent = Infinity } = limits;
    const made = `of a timer of the family ${String(part.values.family)}`;
    const output = (what: string, link: ConductingLink | undefined, limit: number): string[] => {
      const told = overload(view, part, link, limit);
      if (told === undefined) return [];
      return [
        `${part.name}: the output would have to ${what} about ${told} ${made}. Put more resistance into what it feeds.`,
      ];
    };
    const emptied = overload(view, part, discharge, dischargeCurrent);
    return [
      ...output('give', high, outputMaximum),
      ...output('take', low, outputSinkMaximum),
      ...(emptied === undefined
        ? []
        : [
            `${part.name}: DISCHARGE would have to take about ${emptied} ${made}. Put more resistance between DISCHARGE and the supply; 1 kΩ or more is common practice, no source.`,
          ]),
    ];
  });
}

/** The current through a link of a timer, on which ways, and its limit, in words, if it is above the limit. */
function overload(view: CircuitView, part: Part, link: ConductingLink | undefined, limit: number): string | undefined {
  if (link === undefined || limit === Infinity) return undefined;
  const isGiven = link.to === part.nets.output && link.output === 'high';
  const loads = loadsOn(view, link, limit, isGiven ? 'after' : 'before');
  const current = totalCurrent(link, loads, isGiven ? 'after' : 'before');
  if (current <= limit) return undefined;
  const largest = loads.reduce((most, each) => Math.max(most, each.current), 0);
  const named = loads.filter((each) => each.current >= WORTH_NAMING * largest);
  const ways = [...new Set(named.map((path) => wayText(isGiven ? path.after : path.before)))];
  const flows = current === Infinity ? 'any current' : roundedText(current, 'A');
  return `${flows} ${ways.join(', and ')}, above the ${exactText(limit, 'A')}`;
}

function wayText(links: readonly ConductingLink[]): string {
  const inTheWay = links.filter(({ through }) => through !== 'source');
  const names = [...new Map(inTheWay.map((link) => [link.part, linkText(link)])).values()];
  if (names.length === 0) return 'with nothing in the way';
  return `through ${listedText(names)}`;
}

function linkText({ part, through }: ConductingLink): string {
  if (through === 'pot') return `${part} (a pot at its end)`;
  return through === 'contact' ? `${part} (closed)` : part;
}
