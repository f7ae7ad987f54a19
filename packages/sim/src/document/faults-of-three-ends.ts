import type { FaultStep } from './fault-change.ts';
import {
  dryJoint,
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

const LEADS = ['base', 'collector', 'emitter'] as const;
/** What an exchange of leads or of polarities brings that the model of a transistor cannot tell. */
const COARSE =
  'How well it amplifies the wrong way round is left out, and what its junctions bear in reverse is not stated.';

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
 * The single faults of a transistor: each lead open, each pair of leads shorted, two leads exchanged, and one of the other
 * polarity. A transistor the wrong way round conducts from base to collector; that junction is put beside it.
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
    exchanged('collector', 'emitter'),
    exchanged('base', 'emitter'),
    exchanged('base', 'collector'),
    faultOf(
      of,
      'wrong-polarity',
      `@ ${other} instead of ${isNpn ? 'npn' : 'pnp'}`,
      [...set({ polarity: other }), { step: 'junction', ...otherJunction }],
      COARSE,
    ),
    dryJoint(of, 'base', 'the base of @'),
  ];
}
