import { formatQuantity } from '@two-thirds/sim/quantity';
import type { LiveEvent, LiveReport, PressPart } from './live-protocol.ts';

/** From this many happenings in one frame on, nobody could follow them one by one. */
const TOO_MANY = 9;

/**
 * What happened in a slice of a run by hand, as a sentence built from its events; undefined where nothing did.
 *
 * @param presses the parts that a hand works; the other contacts are transistors.
 */
export function happeningWords(
  report: Pick<LiveReport, 'time' | 'events' | 'happened' | 'outputs'>,
  presses: readonly PressPart[],
): string | undefined {
  const { events, happened, time, outputs } = report;
  const last = events.at(-1);
  if (last === undefined) return undefined;
  if (happened >= TOO_MANY) return busyWords(outputs);
  const clauses = events.map((event) => clause(event, presses));
  // A longer slice than a moment may hold several happenings; the sentence names the time of the last.
  return `${whenWords(last.time, time)}: ${[...new Set(clauses)].join('; ')}.`;
}

/** What to say where the search for the next event found none. */
export function quietWords(time: number, until: number, presses: readonly PressPart[]): string {
  const [first] = presses;
  const advice = first === undefined ? '' : ` Work ${nameOf(first)} to make something happen.`;
  return `After ${clockText(time)} nothing happens by itself for ${longWords(until - time)}.${advice}`;
}

/** The same words for as long as the same goes on, so that a screen reader says them once. */
function busyWords(outputs: LiveReport['outputs']): string {
  const tones = outputs.flatMap(({ timer, changes }) => {
    // Whole periods: from a change to a later one of the same direction.
    const periods = Math.floor((changes.length - 1) / 2);
    const span = (changes[2 * periods] ?? 0) - (changes[0] ?? 0);
    return periods < 1 || !(span > 0)
      ? []
      : [`the output of ${timer} goes up and down at ${formatQuantity(periods / span, 'Hz')}`];
  });
  return tones.length === 0 ? 'More happens than can be told.' : `Without a pause: ${tones.join('; ')}.`;
}

function whenWords(time: number, now: number): string {
  return `At ${clockText(time, now < 1 ? 3 : 4)}`;
}

/** A run by hand takes a first step far below this, so that what a hand does at the start is done; s. */
const FIRST_MOMENT = 1e-12;

/** The time of a run by hand in words: its first moment is the start. */
export function clockText(time: number, digits = 4): string {
  return formatQuantity(time < FIRST_MOMENT ? 0 : time, 's', { digits });
}

function clause(
  { part, kind, value, limit, running, bounces, fault }: LiveEvent,
  presses: readonly PressPart[],
): string {
  const against =
    value === undefined || limit === undefined
      ? ''
      : ` (${formatQuantity(near(value, limit), 'V')}, limit ${formatQuantity(limit, 'V')})`;
  switch (kind) {
    case 'close':
    case 'open':
      if (bounces) return `${part} bounces`;
      return contactWords(part, kind === 'close', presses);
    case 'triggerLow':
      return `TRIGGER of ${part} falls below its limit${against}${running ? ', which starts nothing while an interval runs' : ''}`;
    case 'thresholdOver':
      return `THRESHOLD of ${part} reaches its limit${limit === undefined ? '' : ` of ${formatQuantity(limit, 'V')}`}`;
    case 'resetLow':
      return `RESET of ${part} goes low and holds everything`;
    case 'resetHigh':
      return `RESET of ${part} lets go`;
    case 'set':
      return `${part} starts an interval`;
    case 'cleared':
      return `the interval of ${part} ends`;
    case 'outputHigh':
      return `the output of ${part} goes high`;
    case 'outputLow':
      return `the output of ${part} goes low`;
    case 'pulledIn':
      return `${part} pulls in`;
    case 'droppedOut':
      return `${part} drops out`;
    case 'sounding':
      return `${part} sounds`;
    case 'silent':
      return `${part} falls silent`;
    case 'snap':
      return `${part} snaps to another state, with what drives it on`;
    case 'fault':
      return fault?.phase === 'over' ? `${part} goes beyond a limit` : `${part} is back within a limit`;
    default:
      return `${part} changes`;
  }
}

function contactWords(part: string, closes: boolean, presses: readonly PressPart[]): string {
  const press = presses.find((each) => each.part === part);
  if (press === undefined) return closes ? `${part} begins to conduct` : `${part} stops conducting`;
  if (press.kind === 'finger') return closes ? `${part} touches the plate` : `${part} lifts`;
  if (press.kind === 'button') return closes === press.closed ? `${part} is let go` : `${part} is pressed`;
  return closes ? `${nameOf(press)} closes` : `${nameOf(press)} opens`;
}

/** What a part is called in a sentence. */
function nameOf({ part, label }: PressPart): string {
  return label === undefined ? part : `the ${label}`;
}

/** Nanovolts beside a limit of volts are nothing to any reader. */
function near(value: number, limit: number): number {
  return Math.abs(value) < Math.abs(limit) * 1e-4 ? 0 : value;
}

function longWords(seconds: number): string {
  const days = Math.round(seconds / 86_400);
  return days >= 365 ? 'a year' : days >= 2 ? `${days} days` : formatQuantity(seconds, 's');
}
