import type { FaultStep } from './fault-change.ts';
import { dryJoint, exact, faultOf, type FaultyPart, inSeries, OPEN, set, type SingleFault } from './faulty-part.ts';

/** Pins of a timer that may be left out of a joint. */
const PINS = ['trigger', 'threshold', 'discharge', 'reset', 'control', 'output'];
/** Pins that only listen, and the parameter that says what current they take. */
const INPUTS: ReadonlyMap<string, string> = new Map([
  ['trigger', 'triggerCurrent'],
  ['threshold', 'thresholdCurrent'],
  ['reset', 'resetCurrent'],
]);
/** An open input goes where its own current takes it, if that makes this voltage in {@link OPEN} (V); a judgement, no source. */
const TAKES = 10;
/** What a broken transistor inside leaves (Ω); a judgement, no source. */
const BROKEN = 10;
/** Where a pin inside lies that never acts. */
const IDLE: readonly (readonly [pin: string, rests: string])[] = [
  ['trigger', 'supply'],
  ['threshold', 'ground'],
  ['reset', 'supply'],
];
/** Pins that change places when a package of eight pins is turned half round: n and n + 4. */
const OPPOSITE: readonly (readonly [string, string])[] = [
  ['ground', 'control'],
  ['trigger', 'threshold'],
  ['output', 'discharge'],
  ['reset', 'supply'],
];
const TURNED = 'A reversed IC may be destroyed, and so may what it is joined to.';

/**
 * The single faults of a timer: pins not joined (but for inputs that take no current: nobody can say where they float) or
 * with dry joints, its supply or ground lead off, inputs that never act, an output or discharge stuck, the package turned
 * round, and other families that can be bought in its place.
 */
export function timerFaults(of: FaultyPart): SingleFault[] {
  const { part } = of;
  const has = (pin: string): boolean => part.nets[pin] !== undefined;
  return [
    ...PINS.filter(has).flatMap((pin) => [
      ...(goesSomewhere(of, pin)
        ? [faultOf(of, 'missing-link', `${pin.toUpperCase()} of @ not joined`, inSeries(pin, OPEN))]
        : []),
      dryJoint(of, pin, `${pin.toUpperCase()} of @`),
    ]),
    ...IDLE.flatMap(([pin, to]) =>
      has(pin) && part.nets[pin] !== part.nets[to]
        ? [faultOf(of, 'dead-pin', `${pin.toUpperCase()} of @ never acts`, [{ step: 'join', terminal: pin, to }])]
        : [],
    ),
    stuck(of, 'output', 'high', 'supply'),
    stuck(of, 'output', 'low', 'ground'),
    ...(has('discharge') ? [stuck(of, 'discharge', 'closed', 'ground')] : []),
    ...turnedRound(of),
    ...otherFamilies(of),
  ];
}

/** Whether it can be told where a pin goes that is not joined: an input that takes no current floats. */
function goesSomewhere({ part }: FaultyPart, pin: string): boolean {
  const current = INPUTS.get(pin);
  if (current === undefined) return true;
  return Number((part.values.parameters as Readonly<Record<string, unknown>>)[current]) * OPEN >= TAKES;
}

/** A pin that lies at a rail whatever the timer does: its own stage is off the net, what is broken lies there instead. */
function stuck(of: FaultyPart, pin: string, word: string, rail: string): SingleFault {
  const steps: FaultStep[] = [
    { step: 'bridge', from: rail, to: pin, resistance: BROKEN },
    { step: 'series', terminal: pin, resistance: OPEN },
  ];
  return faultOf(of, 'stuck', `${pin.toUpperCase()} of @ stuck ${word} (${exact(BROKEN, 'Ω')})`, steps);
}

/** The package turned half round, where all its pins are joined: otherwise a rail of the timer would lie nowhere. */
function turnedRound(of: FaultyPart): SingleFault[] {
  if (OPPOSITE.flat().some((pin) => of.part.nets[pin] === undefined)) return [];
  const steps = OPPOSITE.map(([one, other]): FaultStep => ({ step: 'exchange', terminals: [one, other] }));
  return [faultOf(of, 'reversed', '@ turned round in its socket', steps, TURNED)];
}

/** The families that can be bought in place of the timer's own; an ideal one cannot. */
function otherFamilies(of: FaultyPart): SingleFault[] {
  return ['bipolar', 'cmos']
    .filter((family) => family !== of.part.values.family)
    .map((family) => faultOf(of, 'other-family', `@ of the family ${family}`, set({ family })));
}
