import type { Field, PartKind, Terminal, TerminalPairs } from '../../circuit/description.ts';
import { quantity } from '../../field/value-readers.ts';
import { formatQuantity } from '../../quantity/index.ts';
import { bounceField } from './bounce-field.ts';
import { endsAAndB } from './terminals.ts';

/**
 * Shares of the rated voltage at which makers guarantee that a small relay has pulled in and has dropped out. A real one
 * pulls in earlier and drops out earlier; what it does between the two is not stated by anybody.
 */
const MUST_OPERATE = 0.75;
const MUST_RELEASE = 0.1;
/** Tenths of the rated voltage that windings bear for long. */
const BEARS_TENTHS = 13;

const winding: readonly Field[] = [
  {
    name: 'voltage',
    title: 'rated voltage of the winding',
    unit: 'V',
    required: true,
    read: quantity('V', { above: 0 }),
  },
  {
    name: 'resistance',
    title: 'resistance of the winding',
    unit: 'Ω',
    required: true,
    read: quantity('Ω', { above: 0 }),
  },
  {
    name: 'pullIn',
    title: 'current from which it pulls in, in either direction',
    unit: 'A',
    defaultFrom: (values) => ({
      value: MUST_OPERATE * ratedCurrent(values),
      source: 'must-operate voltage of 75 % of the rated one, as data sheets of small relays state it',
    }),
    read: quantity('A', { above: 0 }),
  },
  {
    name: 'dropOut',
    title: 'current at which it has dropped out',
    unit: 'A',
    defaultFrom: (values) => ({
      value: MUST_RELEASE * ratedCurrent(values),
      source: 'must-release voltage of 10 % of the rated one, as data sheets of small relays state it',
    }),
    read: quantity('A', { above: 0 }),
  },
  {
    name: 'operateTime',
    title: 'time from pull-in current to armature',
    unit: 's',
    default: 10e-3,
    source: 'greatest operate time of many small relays; from memory of data sheets',
    // An armature has a mass; without a time, contacts that act on their own winding would switch without end.
    read: quantity('s', { above: 0 }),
  },
  {
    name: 'releaseTime',
    title: 'time from drop-out current to armature, with what lies across the winding',
    unit: 's',
    default: 10e-3,
    source: 'greatest release time of many small relays, without a diode; a diode makes it longer',
    read: quantity('s', { above: 0 }),
  },
  {
    name: 'most',
    title: 'greatest voltage across the winding for long',
    unit: 'V',
    defaultFrom: ({ voltage }) => ({
      // A division of whole numbers, so that 12 V gives 15.6 V and not a last digit more.
      value: (BEARS_TENTHS * Number(voltage)) / 10,
      source: '130 % of the rated voltage until stated; common practice, no source',
    }),
    read: quantity('V', { above: 0 }),
  },
  {
    name: 'longest',
    title: 'longest time that it may stay on',
    unit: 's',
    read: quantity('s', { above: 0 }),
  },
];

/** A winding that moves something: a relay without contacts, such as the magnet of a points motor. */
export const solenoid: PartKind = {
  kind: 'solenoid',
  title: 'solenoid',
  terminals: endsAAndB,
  fields: winding,
  paths: () => [['a', 'b']],
  sources: () => [],
  derive: ordered,
};

const contactTerminals: readonly Terminal[] = [
  { name: 'common', required: false, together: ['normallyOpen', 'normallyClosed'] },
  { name: 'normallyOpen', required: false, together: ['common'] },
  { name: 'normallyClosed', required: false, together: ['common'] },
];

const insulated: TerminalPairs = [['b', 'common']];

/**
 * A relay: a winding, which counts as its resistance, and a contact that changes over some time after the current of the
 * winding has passed pull-in or drop-out. Its inductance is not computed (decision 5). The contact may be a make contact
 * (`common` and `normallyOpen`), a break contact (`common` and `normallyClosed`) or a changeover contact.
 */
export const relay: PartKind = {
  kind: 'relay',
  title: 'relay',
  terminals: [...endsAAndB, ...contactTerminals],
  fields: [
    ...winding,
    {
      name: 'contactResistance',
      title: 'resistance of a closed contact',
      unit: 'Ω',
      default: 0.1,
      source: 'greatest initial value of many small relays; from memory of data sheets',
      // Above zero: contacts of one part beside each other would leave open what flows through which.
      read: quantity('Ω', { above: 0 }),
    },
    {
      name: 'insulation',
      title: 'resistance between winding and contact',
      unit: 'Ω',
      default: 1e9,
      source: 'least value that makers of small relays guarantee; from memory of data sheets',
      read: quantity('Ω', { above: 0 }),
    },
    bounceField('how its contact bounces, every time in the same way'),
  ],
  // The insulation leads on: it is what holds a circuit behind the contact that has a supply of its own.
  paths: () => [['a', 'b'], ['common', 'normallyOpen'], ['common', 'normallyClosed'], ...insulated],
  steadyPaths: () => [['a', 'b'], ...insulated],
  sources: () => [],
  derive: ordered,
};

function ratedCurrent({ voltage, resistance }: Readonly<Record<string, unknown>>): number {
  return Number(voltage) / Number(resistance);
}

function ordered(values: Readonly<Record<string, unknown>>): ReturnType<NonNullable<PartKind['derive']>> {
  const { pullIn, dropOut } = values as { pullIn: number; dropOut: number };
  if (dropOut < pullIn) return { ok: true, values: {} };
  return {
    ok: false,
    field: 'dropOut',
    message: `must be less than pullIn; got ${amperes(dropOut)}, while pullIn is ${amperes(pullIn)}. A winding holds with less current than it pulls in with.`,
  };
}

function amperes(value: number): string {
  return formatQuantity(value, 'A', { exact: true });
}
