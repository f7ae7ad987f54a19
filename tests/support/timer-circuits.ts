import type { FilePart } from './run-board.ts';

/** What a part may have beside what its builder asks for. */
type More = Readonly<Record<string, unknown>>;

/** A supply `BT1` from `rail` to ground (V). */
export function supply(voltage: number, more: More = {}): FilePart {
  return { name: 'BT1', kind: 'supply', plus: 'rail', minus: 'ground', voltage, origin: 'isolated', ...more };
}

/** A resistor (Ω). */
export function resistor(name: string, a: string, b: string, resistance: number): FilePart {
  return { name, kind: 'resistor', a, b, resistance };
}

/** A capacitor (F). */
export function capacitor(name: string, a: string, b: string, capacitance: number, more: More = {}): FilePart {
  return { name, kind: 'capacitor', a, b, capacitance, ...more };
}

/** A diode from anode `a` to cathode `b`. */
export function diode(name: string, a: string, b: string, more: More = {}): FilePart {
  return { name, kind: 'diode', a, b, ...more };
}

/** A lamp (LED) from anode `a` to cathode `b`. */
export function lamp(name: string, a: string, b: string, more: More = {}): FilePart {
  return { name, kind: 'led', a, b, ...more };
}

/** A signal from ground to `net`. */
export function signal(name: string, net: string, wave: More, more: More = {}): FilePart {
  return { name, kind: 'signal', plus: net, minus: 'ground', wave, ...more };
}

/** Low-going pulses from the supply voltage to 0 V. */
export function lowPulses(
  voltage: number,
  wave: { readonly period: number; readonly width: number; readonly delay?: number; readonly count?: number },
): More {
  return { shape: 'pulses', rest: voltage, pulse: 0, ...wave };
}

/** A straight line from 0 V at 0 s up to a voltage at 1 s, and back to 0 V at 2 s. */
export function upAndDown(voltage: number): More {
  return {
    shape: 'points',
    between: 'lines',
    points: [
      [0, 0],
      [1, voltage],
      [2, 0],
    ],
  };
}

/** A timer on `rail` and ground, reset tied to the rail, of the ideal family unless `more` says otherwise. */
export function timer(name: string, pins: Readonly<Record<string, string>>, more: More = {}): FilePart {
  return {
    name,
    kind: 'timer',
    family: 'ideal',
    pins: { supply: 'rail', ground: 'ground', reset: 'rail', ...pins },
    ...more,
  };
}

/** Values of a monostable: `resistance` from the rail and `capacitance` to ground at the net `timing`. */
export interface MonostableValues {
  readonly voltage: number;
  readonly resistance: number;
  readonly capacitance: number;
  /** Further fields of the capacitor. */
  readonly ofCapacitor?: More;
  /** Further fields of the timer. */
  readonly ofTimer?: More;
}

/** A monostable `U1` without anything at its trigger net `in`. */
export function monostable(values: MonostableValues): FilePart[] {
  const { voltage, resistance, capacitance, ofCapacitor, ofTimer } = values;
  return [
    supply(voltage),
    timer(
      'U1',
      { trigger: 'in', output: 'out', control: 'control', threshold: 'timing', discharge: 'timing' },
      ofTimer,
    ),
    resistor('R1', 'rail', 'timing', resistance),
    capacitor('C1', 'timing', 'ground', capacitance, ofCapacitor),
  ];
}

/** Values of an astable: R1 from the rail to the discharge pin, R2 on to the capacitor. */
export interface AstableValues {
  readonly voltage: number;
  readonly first: number;
  readonly second: number;
  readonly capacitance: number;
  /** Further fields of the timer. */
  readonly ofTimer?: More;
}

/** An astable `U1` with nets `middle`, `timing`, `control`, `out`. */
export function astable(values: AstableValues): FilePart[] {
  const { voltage, first, second, capacitance, ofTimer } = values;
  return [
    supply(voltage),
    timer(
      'U1',
      { trigger: 'timing', output: 'out', control: 'control', threshold: 'timing', discharge: 'middle' },
      ofTimer,
    ),
    resistor('R1', 'rail', 'middle', first),
    resistor('R2', 'middle', 'timing', second),
    capacitor('C1', 'timing', 'ground', capacitance),
  ];
}

/** A supply `VC` without resistance that holds the net `control` (V). */
export function drivenControl(voltage: number): FilePart {
  return { name: 'VC', kind: 'supply', plus: 'control', minus: 'ground', voltage, origin: 'isolated' };
}
