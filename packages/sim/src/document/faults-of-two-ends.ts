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
import { shortName } from './short-name.ts';

/** What an open capacitor leaves between its nets (F): its pads; a judgement, no source. */
const STRAY = 1e-12;
/** From here on a capacitor is an electrolytic as a rule (F); common practice, no source. */
const ELECTROLYTIC_FROM = 1e-6;
/** A leaky capacitor empties itself in this time (s): leakage times capacitance; a judgement, no source. */
const LEAKY = 1;
/** What a tired electrolytic has left of its capacitance, and its series resistance (Ω); a judgement, no source. */
const TIRED = { share: 0.5, series: 10 } as const;
/** Parts that a resistor beside them keeps from too much current. */
const LIMITED = new Set(['led', 'diode', 'transistor', 'speaker', 'buzzer', 'relay', 'solenoid']);
const REVERSED = 'A reversed electrolytic capacitor heats up and may burst.';

/** The single faults of a resistor. */
export function resistorFaults(of: FaultyPart): SingleFault[] {
  return [
    openAs(of, { resistance: exact(OPEN, 'Ω') }),
    shorted(of),
    ...wrongValues(of, 'resistance', 'Ω', 'E12'),
    dryJoint(of, 'a'),
  ];
}

/** The single faults of a capacitor; an electrolytic may be leaky or tired as well. */
export function capacitorFaults(of: FaultyPart): SingleFault[] {
  const { capacitance, polarised, leakage } = of.part.values as Record<string, number | boolean | undefined>;
  const size = Number(capacitance);
  const isElectrolytic = polarised === true || (polarised === undefined && size >= ELECTROLYTIC_FROM);
  const leaks = exact(Number((LEAKY / size).toPrecision(3)), 'Ω');
  const tired = { capacitance: exact(TIRED.share * size, 'F'), series: exact(TIRED.series, 'Ω') };
  return [
    openAs(of, { capacitance: exact(STRAY, 'F') }),
    shorted(of),
    ...wrongValues(of, 'capacitance', 'F', 'E12'),
    ...(polarised === true ? [turned(of, REVERSED)] : []),
    dryJoint(of, 'a'),
    ...(isElectrolytic && !(Number(leakage) <= LEAKY / size)
      ? [faultOf(of, 'leaky', `@ leaky (as ${leaks} across it)`, set({ leakage: leaks }))]
      : []),
    ...(isElectrolytic
      ? [faultOf(of, 'tired', `@ tired (half its capacitance, ${tired.series} in series)`, set(tired))]
      : []),
  ];
}

/**
 * The single faults of a diode or an LED. A blob of solder across it leaves it in its place: readings of it, such as its
 * light, go on.
 */
export function diodeFaults(of: FaultyPart): SingleFault[] {
  const blob = { step: 'bridge', from: 'a', to: 'b', resistance: SHORT } as const;
  return [
    faultOf(of, 'open', '@ open or missing', inSeries('a', OPEN)),
    faultOf(of, 'short', '@ shorted', [blob], neverShort(of)),
    turned(of),
    dryJoint(of, 'a'),
  ];
}

/** The single faults of a loudspeaker. */
export function speakerFaults(of: FaultyPart): SingleFault[] {
  return [openAs(of, { resistance: exact(OPEN, 'Ω') }), shorted(of), dryJoint(of, 'a')];
}

/** The single faults of a button or switch. */
export function contactFaults(of: FaultyPart): SingleFault[] {
  return [
    faultOf(of, 'open', '@ never closes', set({ closed: false, presses: [] })),
    faultOf(of, 'short', '@ stays closed', set({ closed: true, presses: [] }), neverShort(of)),
    dryJoint(of, 'a'),
  ];
}

/** The single faults of a jumper. */
export function jumperFaults(of: FaultyPart): SingleFault[] {
  return [faultOf(of, 'missing-link', '@ missing', set({ closed: false, presses: [] })), dryJoint(of, 'a')];
}

/**
 * Why a short between two terminals of a part must never be built, whatever a run says; null where the run decides.
 */
export function neverShort({ part, circuit, name, prefix }: FaultyPart, from = 'a', to = 'b'): string | null {
  const nets = new Set([part.nets[from] ?? '', part.nets[to] ?? '']);
  const across = circuit.parts.find(({ kind, nets: { plus, minus } }) => {
    return (kind === 'supply' || kind === 'signal') && nets.has(plus ?? '') && nets.has(minus ?? '');
  });
  if (across !== undefined) return `It is a short circuit of ${shortName(across.name, prefix)}.`;
  const beside = circuit.parts.find((other) => {
    return LIMITED.has(other.kind) && Object.values(other.nets).some((net) => net !== 'ground' && nets.has(net ?? ''));
  });
  if (part.kind !== 'resistor' || beside === undefined) return null;
  return `${name} is what keeps the current of ${shortName(beside.name, prefix)} small.`;
}

function openAs(of: FaultyPart, values: Readonly<Record<string, unknown>>): SingleFault {
  return faultOf(of, 'open', '@ open or missing', set(values));
}

function shorted(of: FaultyPart): SingleFault {
  return faultOf(of, 'short', '@ shorted', [{ step: 'resistor', resistance: SHORT }], neverShort(of));
}

function turned(of: FaultyPart, never: string | null = null): SingleFault {
  return faultOf(of, 'reversed', '@ reversed', [{ step: 'exchange', terminals: ['a', 'b'] }], never);
}
