import { dryJoint, exact, faultOf, type FaultyPart, inSeries, OPEN, set, type SingleFault } from './faulty-part.ts';

/** A flat battery has this share of its voltage left and this resistance (Ω) more inside; a judgement, no source. */
const FLAT = { share: 0.7, more: 20 } as const;
/** Supplies of boards (V); common practice, no source. */
const USUAL = [3, 4.5, 5, 6, 9, 12, 15];
const REVERSED = 'A reversed supply destroys timers and electrolytic capacitors.';

/** One change of a supply's voltage, as it was read. */
interface Change {
  readonly at: number;
  readonly voltage: number;
  readonly over: number;
}

/**
 * The single faults of a supply: not joined, a dry joint, flat, the usual voltages next to its own, and reversed.
 */
export function supplyFaults(of: FaultyPart): SingleFault[] {
  const { voltage, resistance } = of.part.values as { voltage: number; resistance: number };
  const wrong = [USUAL.findLast((volts) => volts < voltage), USUAL.find((volts) => volts > voltage)];
  const flat = { ...scaled(of, FLAT.share), resistance: exact(resistance + FLAT.more, 'Ω') };
  return [
    faultOf(of, 'open', '@ not joined', inSeries('plus', OPEN)),
    dryJoint(of, 'plus'),
    ...(voltage > 0
      ? [
          faultOf(
            of,
            'flat',
            `@ flat (${exact(FLAT.share * voltage, 'V')} behind ${exact(resistance + FLAT.more, 'Ω')} instead of ${exact(voltage, 'V')})`,
            set(flat),
          ),
          ...wrong.flatMap((volts) => (volts === undefined ? [] : [wrongVoltage(of, volts, voltage)])),
        ]
      : []),
    faultOf(of, 'reversed', '@ reversed', [{ step: 'exchange', terminals: ['plus', 'minus'] }], REVERSED),
  ];
}

/** The single faults of a signal: its lead off, and nothing coming from it. */
export function signalFaults(of: FaultyPart): SingleFault[] {
  const level = exact(restOf(of.part.values.wave as WaveValues), 'V');
  return [
    faultOf(of, 'open', 'lead of @ off', inSeries('plus', OPEN)),
    faultOf(of, 'no-signal', `@ gives nothing (stays at ${level})`, set({ wave: { shape: 'constant', level } })),
    dryJoint(of, 'plus'),
  ];
}

/** The single fault of a source of current. */
export function currentSourceFaults(of: FaultyPart): SingleFault[] {
  return [faultOf(of, 'open', '@ open or missing', inSeries('a', OPEN)), dryJoint(of, 'a')];
}

function wrongVoltage(of: FaultyPart, volts: number, now: number): SingleFault {
  const unrated = of.circuit.parts
    .filter(({ name, kind, values }) => {
      return (
        name.startsWith(of.prefix) && kind === 'capacitor' && values.polarised === true && values.rating === undefined
      );
    })
    .map(({ name }) => name.slice(of.prefix.length));
  const never =
    volts < now || unrated.length === 0 ? null : `What voltage ${unrated.join(' and ')} may have is not stated.`;
  const title = `@ ${exact(volts, 'V')} instead of ${exact(now, 'V')}`;
  return faultOf(of, 'wrong-voltage', title, set(scaled(of, volts / now)), never);
}

/** Voltage and changes of a supply, all times the same share. */
function scaled({ part }: FaultyPart, share: number): Record<string, unknown> {
  const { voltage, changes } = part.values as { voltage: number; changes: readonly Change[] };
  const volts = exact(share * voltage, 'V');
  if (changes.length === 0) return { voltage: volts };
  const scaledChanges = changes.map((change) => ({
    at: exact(change.at, 's'),
    voltage: exact(share * change.voltage, 'V'),
    over: exact(change.over, 's'),
  }));
  return { voltage: volts, changes: scaledChanges };
}

/** What a wave has before it begins, by its shape: as it was read from the document. */
interface WaveValues {
  readonly rest?: number;
  readonly low?: number;
  readonly offset?: number;
  readonly points?: readonly (readonly [time: number, value: number])[];
}

/** Where a wave stays that never begins; a constant one is then at 0 V. */
function restOf({ rest, low, offset, points }: WaveValues): number {
  return rest ?? low ?? offset ?? points?.[0]?.[1] ?? 0;
}
