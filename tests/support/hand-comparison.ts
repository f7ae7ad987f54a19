import type { EventKind } from '#sim/trace/event.ts';
import { expect } from 'vitest';
import { errorOf } from './error-measure.ts';
import { type HandEquations, type HandState, integrateByHand } from './hand-integration.ts';
import type { FilePart } from './run-board.ts';
import { eventsOf, storedRun } from './stored-run.ts';

/** What happens to the latch of the timer `U1`, as comparisons name it. */
export const latch = [
  { label: 'on', part: 'U1', kind: 'set' },
  { label: 'off', part: 'U1', kind: 'cleared' },
] as const;

/** Each of the ideal timer's three divider resistors (Ω). */
export const DIVIDER = 5e3;

/** What a circuit and its hand-written equations must agree on. */
export interface HandComparison<Discrete> {
  readonly parts: readonly FilePart[];
  readonly equations: HandEquations<Discrete>;
  readonly until: number;
  /** Label in the equations of each event of the engine that is compared. */
  readonly events: readonly { readonly label: string; readonly part: string; readonly kind: EventKind }[];
  /** Labels of further events that the run must have in order to be a test of anything. */
  readonly happens?: readonly string[];
  /** Net voltages as the equations have them. */
  readonly nets: (discrete: Discrete, state: HandState, time: number) => Readonly<Record<string, number>>;
  /** What an error in volts is a share of: the supply. */
  readonly volts: number;
}

/**
 * 1e-8 for times (relative) and voltages (of the supply): what an ODE package with step tolerance 1e-12 keeps over some
 * ten events; the engine itself is far closer.
 */
const TOLERANCE = 1e-8;
/** Times at which voltages are compared, spread over the run without a common measure with it. */
const LOOKS = 23;

/** Runs both, and expects the same events at the same times and the same voltages at several times. */
export function expectAgreement<Discrete>(comparison: HandComparison<Discrete>): void {
  const { parts, equations, until, events, nets, volts, happens = [] } = comparison;
  const trace = storedRun(parts, until);
  const hand = integrateByHand(equations, until);
  for (const label of happens) expect(hand.events.map((event) => event.label)).toContain(label);
  for (const { label, part, kind } of events) {
    const wanted = hand.events.filter((event) => event.label === label).map(({ time }) => time);
    const found = eventsOf(trace, part, kind).map(({ time }) => time);
    expect(found.length, `${part} ${kind}: number of events`).toBe(wanted.length);
    // An event that the run must have in order to be a test of anything.
    expect(wanted.length, `${label}: number of events`).toBeGreaterThan(0);
    const later = wanted.flatMap((time, i) => (time > 0 ? [i] : []));
    if (later.length < wanted.length)
      expect(found.slice(0, wanted.length - later.length).every((time) => time === 0)).toBe(true);
    if (later.length === 0) continue;
    const error = errorOf(
      later.map((i) => found[i]!),
      later.map((i) => wanted[i]!),
    );
    expect(error, `${part} ${kind}: times`).toBeLessThanOrEqual(TOLERANCE);
  }
  for (let look = 0; look < LOOKS; look++) {
    const time = until * ((look + Math.SQRT1_2) / (LOOKS + 1));
    const { discrete, state } = hand.at(time);
    for (const [net, wanted] of Object.entries(nets(discrete, state, time))) {
      const error = errorOf(trace.at({ net }, time), wanted, { scale: volts });
      expect(error, `${net} at ${time} s`).toBeLessThanOrEqual(TOLERANCE);
    }
  }
}
