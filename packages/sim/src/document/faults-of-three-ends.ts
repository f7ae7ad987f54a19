import type { FaultStep } from './fault-change.ts';
import {
  dryJoint,
  exact,
  faultOf,
  type FaultyPart,
  inSeries,
  OPEN,
  set,
  SHORT,
  type SingleFault,
  wrongValues,
} from './faulty-part.ts';
import { neverShort } from './faults-of-two-ends.ts';
import type { FaultKind } from '../study/symptoms.ts';

const LEADS = ['base', 'collector', 'emitter'] as const;
/** What an exchange of leads or of polarities brings that the model of a transistor cannot tell. */
const COARSE =
  'How well it amplifies the wrong way round is left out, and what its junctions bear in reverse is not stated.';

/** Gain of a transistor whose collector and emitter have changed places; from memory: one to ten. */
const REVERSE_GAIN = 5;
/** What the drive of a switch stands for; from memory: a load is driven with a hundredth of its current or more. */
const SWITCH_GAIN = 100;
const REVERSED = `Its gain the wrong way round is taken as ${REVERSE_GAIN} at most, and what its junctions bear in reverse is not stated.`;

/**
 * The single faults of a pot: the joint of the wiper or an end of the track open, the ends exchanged, stuck at an end, and
 * another one in its place. Pots come in three values a decade (common practice, no source).
 */
export function potFaults(of: FaultyPart): SingleFault[] {
  const { position } = of.part.values as { position: number };
  const stuck = (at: number, end: string): SingleFault[] =>
    position === at ? [] : [faultOf(of, 'stuck', `@ stuck with its wiper at ${end}`, set({ position: at }))];
  return [
    faultOf(of, 'open', 'wiper of @ open', inSeries('wiper', OPEN)),
    faultOf(of, 'open', 'track of @ broken at its end a', inSeries('a', OPEN)),
    faultOf(of, 'open', 'track of @ broken at its end b', inSeries('b', OPEN)),
    faultOf(of, 'exchanged', 'ends of @ exchanged', [{ step: 'exchange', terminals: ['a', 'b'] }]),
    ...stuck(0, 'a'),
    ...stuck(1, 'b'),
    ...wrongValues(of, 'resistance', 'Ω', 'E3'),
    dryJoint(of, 'wiper', 'the wiper of @'),
  ];
}

/**
 * The single faults of a transistor: each lead open, each pair of leads shorted, two leads exchanged, one of the other
 * polarity, and where a gain is stated, another gain. A transistor whose base has changed places conducts from base to
 * collector; that junction is put beside it. One whose collector and emitter have is one of little gain.
 */
export function transistorFaults(of: FaultyPart): SingleFault[] {
  const { part } = of;
  const isNpn = part.values.polarity === 'npn';
  const other = isNpn ? 'pnp' : 'npn';
  const shorted = (from: string, to: string, steps: readonly FaultStep[], never: string | null = null): SingleFault =>
    faultOf(
      of,
      'short',
      `${from} and ${to} of @ shorted`,
      [{ step: 'bridge', from, to, resistance: SHORT }, ...steps],
      neverShort(of, from, to) ?? never,
    );
  const emitterJunction = isNpn ? { from: 'base', to: 'emitter' } : { from: 'emitter', to: 'base' };
  /** With two leads exchanged, the junction from base to collector, by the leads whose nets they get. */
  const exchanged = (one: (typeof LEADS)[number], two: (typeof LEADS)[number]): SingleFault => {
    const at = (lead: string): string => (lead === one ? two : lead === two ? one : lead);
    const [base, collector] = [at('base'), at('collector')];
    const junction = isNpn ? { from: base, to: collector } : { from: collector, to: base };
    return faultOf(
      of,
      'exchanged',
      `${one} and ${two} of @ exchanged`,
      [
        { step: 'exchange', terminals: [one, two] },
        { step: 'junction', ...junction },
      ],
      COARSE,
    );
  };
  const otherJunction = isNpn ? { from: 'collector', to: 'base' } : { from: 'base', to: 'collector' };
  return [
    ...LEADS.map((lead) => faultOf(of, 'open', `${lead} of @ open`, inSeries(lead, OPEN))),
    shorted('collector', 'emitter', []),
    shorted('base', 'emitter', []),
    // What is left is a diode: it takes all the current, so there is nothing to saturate.
    shorted(
      'base',
      'collector',
      [{ step: 'diode', ...emitterJunction }],
      'The current of the load goes through the base, whose rating is not stated.',
    ),
    faultOf(of, 'exchanged', 'collector and emitter of @ exchanged', set(reversed(part.values)), REVERSED),
    exchanged('base', 'emitter'),
    exchanged('base', 'collector'),
    faultOf(
      of,
      'wrong-polarity',
      `@ ${other} instead of ${isNpn ? 'npn' : 'pnp'}`,
      [...set({ polarity: other }), { step: 'junction', ...otherJunction }],
      COARSE,
    ),
    ...wrongGains(of),
    dryJoint(of, 'base', 'the base of @'),
  ];
}

/** The values of a transistor whose collector and emitter have changed places: it does the same with less gain. */
function reversed({ gain, drive }: Readonly<Record<string, unknown>>): Readonly<Record<string, unknown>> {
  return typeof gain === 'number'
    ? { gain: Math.min(gain, REVERSE_GAIN) }
    : { drive: exact((Number(drive) * SWITCH_GAIN) / REVERSE_GAIN, 'A') };
}

/**
 * A transistor of another type: a tenth of the gain, as those for large currents have, and a third and three times of it, as
 * far as the groups of gain in which small ones are sold lie apart; from memory.
 */
function wrongGains(of: FaultyPart): SingleFault[] {
  const { gain } = of.part.values;
  if (typeof gain !== 'number') return [];
  const wrong = (what: FaultKind, times: number): SingleFault => {
    const other = Number((gain * times).toPrecision(2));
    return faultOf(of, what, `@ with a gain of ${other} instead of ${gain}`, set({ gain: other }));
  };
  return [wrong('a-tenth', 0.1), wrong('next-below', 1 / 3), wrong('next-above', 3)];
}
