import type { Circuit } from '../circuit/description.ts';
import { contactsOf } from '../measure/contacts.ts';
import type { TimerFacts } from '../measure/context.ts';
import { type Instant, instantObserver } from '../trace/instant-observer.ts';
import type { ContactWatch } from '../trace/contact-observer.ts';
import type { Observer } from '../trace/observer.ts';
import type { InstantRow } from './results.ts';
import { shortName } from './short-name.ts';

/** Watches a board at given instants. */
export interface InstantWatch {
  readonly observers: readonly Observer[];
  result(): readonly InstantRow[];
}

/**
 * Plans to read a board at instants: its nets, its currents, the limits of its timers' comparators, and what conducts of
 * what hands open and close.
 *
 * @param times seconds; none makes no observer.
 * @param timers those of the board.
 * @param prefix put before the board's own names in the circuit.
 */
export function watchInstants(
  times: readonly number[],
  { parts }: Circuit,
  timers: readonly TimerFacts[],
  prefix: string,
): InstantWatch {
  if (times.length === 0) return { observers: [], result: () => [] };
  const contacts = parts.flatMap((part) => [...contactsOf(part).values()].filter(isWorked));
  const observer = instantObserver(times, contacts);
  return {
    observers: [observer],
    result: () => observer.result().map((instant) => instantRow(instant, timers, prefix)),
  };
}

function isWorked({ by }: ContactWatch): boolean {
  return by === 'hand';
}

function instantRow(
  { time, nets, currents, active, closed }: Instant,
  timers: readonly TimerFacts[],
  prefix: string,
): InstantRow {
  const voltage = (net: string): number => nets.get(net) ?? 0;
  const limits = timers.map(
    ({ name, control, lower }) =>
      [shortName(name, prefix), { threshold: voltage(control), trigger: voltage(lower) }] as const,
  );
  return {
    time,
    nets: Object.fromEntries([...nets].map(([net, value]) => [shortName(net, prefix), value])),
    currents: Object.fromEntries([...currents].map(([part, value]) => [shortName(part, prefix), value])),
    limits: Object.fromEntries(limits),
    active: [...active].map((part) => shortName(part, prefix)),
    closed: [...closed].map((part) => shortName(part, prefix)),
  };
}
