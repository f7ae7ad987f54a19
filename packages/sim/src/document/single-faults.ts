import type { Circuit, Part } from '../circuit/description.ts';
import { readPart } from '../circuit/read-part.ts';
import { standardKinds } from '../device/standard-kinds.ts';
import { formatQuantity, stepPreferred, type Unit } from '../quantity/index.ts';
import { inSeries, replaced } from '../study/harm.ts';
import type { FaultKind, SymptomFault } from '../study/symptoms.ts';
import type { GoodBoard } from './board-table.ts';
import { withValue } from './knob.ts';

/** What still leads past an open part or a pin that is not joined (Ω): the surface of a board; a judgement, no source. */
const OPEN = 1e9;
/** What an open capacitor leaves between its nets (F): its pads; a judgement, no source. */
const STRAY = 1e-12;
/** A blob of solder (Ω); a judgement, no source. */
const SHORT = 0.1;
/** A dry joint (Ω): such joints have anything from little to nearly open; a judgement, no source. */
const DRY = 1000;
/** From here on a capacitor is an electrolytic as a rule (F); common practice, no source. */
const ELECTROLYTIC_FROM = 1e-6;
/** A leaky capacitor empties itself in this time (s): leakage times capacitance; a judgement, no source. */
const LEAKY = 1;
/** What a tired electrolytic has left of its capacitance, and its series resistance (Ω); a judgement, no source. */
const TIRED = { share: 0.5, series: 10 } as const;
/** Pins of a timer that may be left out of a joint: without its supply the model of a timer says nothing. */
const PINS = ['trigger', 'threshold', 'discharge', 'reset', 'control', 'output'];
/** Pins that only listen, and the parameter that says what current they take. */
const INPUTS: ReadonlyMap<string, string> = new Map([
  ['trigger', 'triggerCurrent'],
  ['threshold', 'thresholdCurrent'],
  ['reset', 'resetCurrent'],
]);
/** An open input goes where its own current takes it, if that makes this voltage in {@link OPEN} (V); a judgement, no source. */
const TAKES = 10;
const CONTACTS = new Set(['button', 'jumper', 'switch']);
/** Parts that a resistor beside them keeps from too much current. */
const LIMITED = new Set(['led', 'diode', 'transistor', 'speaker']);

/** One fault of one part of a board, and the circuit it makes. */
export interface SingleFault extends SymptomFault {
  inject(): Circuit;
}

/**
 * Every single fault of the board's own parts: resistors, capacitors, LEDs, diodes and contacts open and shorted; resistors
 * and capacitors wrong by a decade or by one value of E12; polarised capacitors, LEDs and diodes reversed; dry joints;
 * pins of timers not joined (but for inputs that take no current: nobody can say where they float); another timer family; leaky and tired capacitors.
 */
export function singleFaults(board: GoodBoard): SingleFault[] {
  const { circuit, prefix } = board;
  const own = circuit.parts.filter(({ name }) => name.startsWith(prefix));
  return own.flatMap((part) => faultsOf(part, board));
}

function faultsOf(part: Part, board: GoodBoard): SingleFault[] {
  const { circuit, prefix } = board;
  const name = part.name.slice(prefix.length);
  const make = (what: FaultKind, title: string, by: readonly Part[], never: string | null = null): SingleFault => ({
    part: name,
    what,
    title,
    never,
    inject: () => replaced(circuit, part, by),
  });
  const valued = (values: Readonly<Record<string, unknown>>): Part[] => [
    { ...part, values: { ...part.values, ...values } },
  ];
  const shorted: Part[] = [{ ...part, kind: 'resistor', nets: twoNets(part), values: { resistance: SHORT } }];
  const dry = make('dry-joint', `${name} has a dry joint (${text(DRY, 'Ω')} in series)`, inSeries(part, DRY));
  const short = (): SingleFault => make('short', `${name} shorted`, shorted, neverShort(part, circuit, name));
  const open = (by: readonly Part[]): SingleFault => make('open', `${name} open or missing`, by);
  switch (part.kind) {
    case 'resistor':
      return [
        open(valued({ resistance: OPEN })),
        short(),
        ...wrongValues(part, name, 'resistance', 'Ω', make, valued),
        dry,
      ];
    case 'capacitor': {
      const { capacitance, polarised, leakage } = part.values as Record<string, number | boolean | undefined>;
      const size = Number(capacitance);
      const isElectrolytic = polarised === true || (polarised === undefined && size >= ELECTROLYTIC_FROM);
      const leaks = LEAKY / size;
      return [
        open(valued({ capacitance: STRAY })),
        short(),
        ...wrongValues(part, name, 'capacitance', 'F', make, valued),
        ...(polarised === true ? [make('reversed', `${name} reversed`, turned(part), REVERSED)] : []),
        dry,
        ...(isElectrolytic && !(Number(leakage) <= leaks)
          ? [make('leaky', `${name} leaky (as ${text(leaks, 'Ω')} across it)`, valued({ leakage: leaks }))]
          : []),
        ...(isElectrolytic
          ? [
              make(
                'tired',
                `${name} tired (half its capacitance, ${text(TIRED.series, 'Ω')} in series)`,
                valued({ capacitance: TIRED.share * size, series: TIRED.series }),
              ),
            ]
          : []),
      ];
    }
    case 'led':
    case 'diode':
      return [open(inSeries(part, OPEN)), short(), make('reversed', `${name} reversed`, turned(part)), dry];
    case 'speaker':
      return [open(valued({ resistance: OPEN })), short(), dry];
    case 'timer':
      return [...pinFaults(part, name, make), ...otherFamilies(part, name, board)];
    default:
      if (!CONTACTS.has(part.kind)) return [];
      return [
        part.kind === 'jumper'
          ? make('missing-link', `${name} missing`, valued({ closed: false, presses: [] }))
          : make('open', `${name} never closes`, valued({ closed: false, presses: [] })),
        ...(part.kind === 'jumper'
          ? []
          : [
              make(
                'short',
                `${name} stays closed`,
                valued({ closed: true, presses: [] }),
                neverShort(part, circuit, name),
              ),
            ]),
        dry,
      ];
  }
}

const REVERSED = 'A reversed electrolytic capacitor heats up and may burst.';

/** Why a short must never be built, whatever a run says; null where the run decides. */
function neverShort(part: Part, { parts }: Circuit, name: string): string | null {
  const nets = new Set(Object.values(twoNets(part)));
  const across = parts.find(({ kind, nets: { plus, minus } }) => {
    return (kind === 'supply' || kind === 'signal') && nets.has(plus ?? '') && nets.has(minus ?? '');
  });
  if (across !== undefined) return `It is a short circuit of ${across.name}.`;
  const beside = parts.find((other) => {
    return LIMITED.has(other.kind) && Object.entries(other.nets).some(([, net]) => net !== 'ground' && nets.has(net));
  });
  if (part.kind !== 'resistor' || beside === undefined) return null;
  return `${name} is what keeps the current of ${beside.name} small.`;
}

function wrongValues(
  part: Part,
  name: string,
  field: string,
  unit: Unit,
  make: (what: FaultKind, title: string, by: readonly Part[]) => SingleFault,
  valued: (values: Readonly<Record<string, unknown>>) => Part[],
): SingleFault[] {
  const now = Number(part.values[field]);
  if (!(now > 0)) return [];
  const wrong = (what: FaultKind, value: number): SingleFault =>
    make(what, `${name} ${text(value, unit)} instead of ${text(now, unit)}`, valued({ [field]: value }));
  return [
    wrong('ten-times', rounded(10 * now)),
    wrong('a-tenth', rounded(now / 10)),
    wrong('next-above', stepPreferred(now, 'E12', 1)),
    wrong('next-below', stepPreferred(now, 'E12', -1)),
  ];
}

function pinFaults(
  part: Part,
  name: string,
  make: (what: FaultKind, title: string, by: readonly Part[]) => SingleFault,
): SingleFault[] {
  return PINS.filter((pin) => part.nets[pin] !== undefined).flatMap((pin) => [
    ...(goesSomewhere(part, pin)
      ? [make('missing-link', `${pin.toUpperCase()} of ${name} not joined`, inSeries(part, OPEN, pin))]
      : []),
    make('dry-joint', `${pin.toUpperCase()} of ${name} has a dry joint (${text(DRY, 'Ω')})`, inSeries(part, DRY, pin)),
  ]);
}

/** Whether it can be told where a pin goes that is not joined: an input that takes no current floats. */
function goesSomewhere({ values }: Part, pin: string): boolean {
  const current = INPUTS.get(pin);
  if (current === undefined) return true;
  return Number((values.parameters as Readonly<Record<string, unknown>>)[current]) * OPEN >= TAKES;
}

/** The families that can be bought in place of the timer's own; an ideal one cannot. */
function otherFamilies(part: Part, name: string, { circuit, parts }: GoodBoard): SingleFault[] {
  const written = parts.find((each) => (each as Part).name === name);
  return ['bipolar', 'cmos'].flatMap((family): SingleFault[] => {
    if (family === part.values.family) return [];
    const { part: read } = readPart(withValue(written, ['family'], family), standardKinds, { place: '', index: 0 });
    if (read === undefined) return [];
    const by = [{ ...read, name: part.name, nets: part.nets }];
    const title = `${name} of the family ${family}`;
    return [{ part: name, what: 'other-family', title, never: null, inject: () => replaced(circuit, part, by) }];
  });
}

function turned(part: Part): Part[] {
  const { a = '', b = '' } = part.nets;
  return [{ ...part, nets: { a: b, b: a } }];
}

function twoNets({ nets: { a = '', b = '' } }: Part): Readonly<Record<string, string>> {
  return { a, b };
}

/** Without the rounding of a multiplication. */
function rounded(value: number): number {
  return Number(value.toPrecision(12));
}

function text(value: number, unit: Unit): string {
  return formatQuantity(rounded(value), unit, { exact: true });
}
