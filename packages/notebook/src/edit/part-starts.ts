import type { JsonRecord } from './json.ts';

/** One end of a kind of part. */
interface TerminalStart {
  readonly name: string;
  /** Whether it may be left open. */
  readonly isOptional?: boolean;
  /** The net that it lies on where it is left open. */
  readonly open?: 'ground';
}

/** A kind of part that can be added to a board. */
export interface PartStart {
  readonly kind: string;
  /** What is added, as it stands in a sentence: `a resistor`. */
  readonly words: string;
  /** What names of such parts begin with: letters of IEC 81346-2 or IEEE 315 where they have one, from memory. */
  readonly letters: string;
  readonly terminals: readonly TerminalStart[];
  /** The field that holds the nets, where they do not stand in the part itself. */
  readonly netsUnder?: string;
  /**
   * Where its ends go at first: `rail` and `ground` are the poles of the first supply, any other word is a net of its own.
   * Chosen so that the board can be computed at once and what it did before stays as it was.
   */
  readonly nets: Readonly<Record<string, string>>;
  /** Values to begin with; what is left out is the default of the library. */
  readonly values: JsonRecord;
}

const twoEnds: readonly TerminalStart[] = [{ name: 'a' }, { name: 'b' }];
const poles: readonly TerminalStart[] = [{ name: 'plus' }, { name: 'minus' }];
const fromRail = { a: 'rail', b: 'node' };
const toGround = { a: 'node', b: 'ground' };

/** All kinds of parts, those that are used most first. */
export const partStarts: readonly PartStart[] = [
  {
    kind: 'resistor',
    words: 'a resistor',
    letters: 'R',
    terminals: twoEnds,
    nets: fromRail,
    values: { resistance: '10 kΩ' },
  },
  {
    kind: 'capacitor',
    words: 'a capacitor',
    letters: 'C',
    terminals: twoEnds,
    nets: toGround,
    values: { capacitance: '100 nF' },
  },
  {
    kind: 'timer',
    words: 'a timer',
    letters: 'U',
    netsUnder: 'pins',
    terminals: [
      { name: 'supply' },
      { name: 'ground' },
      { name: 'trigger' },
      { name: 'output' },
      { name: 'threshold' },
      { name: 'control', isOptional: true },
      { name: 'reset', isOptional: true },
      { name: 'discharge', isOptional: true },
    ],
    // With its trigger at the supply it rests until something else is joined there.
    nets: {
      supply: 'rail',
      ground: 'ground',
      trigger: 'rail',
      output: 'out',
      threshold: 'timing',
      reset: 'rail',
      discharge: 'timing',
    },
    values: { family: 'bipolar' },
  },
  { kind: 'led', words: 'an LED', letters: 'D', terminals: twoEnds, nets: toGround, values: { colour: 'red' } },
  { kind: 'diode', words: 'a diode', letters: 'D', terminals: twoEnds, nets: toGround, values: {} },
  {
    kind: 'button',
    words: 'a button',
    letters: 'S',
    terminals: twoEnds,
    nets: toGround,
    values: { presses: [{ at: '1 s', for: '200 ms' }] },
  },
  { kind: 'switch', words: 'a switch', letters: 'S', terminals: twoEnds, nets: fromRail, values: { closed: false } },
  { kind: 'jumper', words: 'a jumper', letters: 'J', terminals: twoEnds, nets: fromRail, values: { closed: true } },
  {
    kind: 'pot',
    words: 'a potentiometer',
    letters: 'RV',
    terminals: [{ name: 'a' }, { name: 'wiper' }, { name: 'b' }],
    nets: { a: 'rail', wiper: 'node', b: 'ground' },
    values: { resistance: '100 kΩ', position: 0.5 },
  },
  {
    kind: 'transistor',
    words: 'a transistor',
    letters: 'Q',
    terminals: [{ name: 'base' }, { name: 'collector' }, { name: 'emitter' }],
    nets: { base: 'base', collector: 'collector', emitter: 'ground' },
    values: { polarity: 'npn' },
  },
  {
    kind: 'relay',
    words: 'a relay',
    letters: 'K',
    terminals: [
      ...twoEnds,
      { name: 'common', isOptional: true },
      { name: 'normallyOpen', isOptional: true },
      { name: 'normallyClosed', isOptional: true },
    ],
    nets: { a: 'rail', b: 'node', common: 'rail', normallyOpen: 'switched' },
    values: { voltage: '12 V', resistance: '300 Ω' },
  },
  {
    kind: 'solenoid',
    words: 'a solenoid',
    letters: 'L',
    terminals: twoEnds,
    nets: fromRail,
    values: { voltage: '12 V', resistance: '5 Ω', longest: '500 ms' },
  },
  {
    kind: 'buzzer',
    words: 'a buzzer',
    letters: 'LS',
    terminals: poles,
    nets: { plus: 'node', minus: 'ground' },
    values: { resistance: '400 Ω', least: '8 V', most: '16 V' },
  },
  { kind: 'speaker', words: 'a loudspeaker', letters: 'LS', terminals: twoEnds, nets: toGround, values: {} },
  {
    kind: 'finger',
    words: 'a finger',
    letters: 'F',
    terminals: [{ name: 'a' }],
    nets: { a: 'plate' },
    values: { touches: [{ at: '1 s', for: '200 ms' }] },
  },
  {
    kind: 'signal',
    words: 'a signal',
    letters: 'G',
    terminals: poles,
    nets: { plus: 'in', minus: 'ground' },
    values: { wave: { shape: 'pulses', period: '1 s', width: '100 ms', rest: '0 V', pulse: '5 V' } },
  },
  {
    kind: 'source',
    words: 'a current source',
    letters: 'I',
    terminals: twoEnds,
    nets: fromRail,
    values: { current: '1 mA' },
  },
  {
    kind: 'probe',
    words: 'a probe',
    letters: 'P',
    terminals: [{ name: 'a' }, { name: 'b', isOptional: true, open: 'ground' }],
    nets: { a: 'rail' },
    values: {},
  },
  {
    kind: 'supply',
    words: 'a supply',
    letters: 'BT',
    terminals: poles,
    nets: { plus: 'rail', minus: 'ground' },
    values: { voltage: '6 V', origin: 'battery' },
  },
];

/** What is known of a kind of part by its name. */
export function partStart(kind: unknown): PartStart | undefined {
  return partStarts.find((start) => start.kind === kind);
}
