import type { PartRow } from '@two-thirds/sim/document';

/** A part as a drawing needs it: what it is, where its ends go, and the text beside it. */
export interface Shape {
  readonly name: string;
  /** What stands beside it in place of its name. */
  readonly label?: string;
  readonly kind: string;
  readonly title: string;
  /** Nets of its two ends; for a part with one end, the second is absent. */
  readonly ends: readonly [string, string | undefined];
  /** A third end that leaves from its middle: a wiper, the base of a transistor. */
  readonly side?: string;
  readonly value: string;
  readonly polarised: boolean;
}

/** The timer of a drawing: a box with pins. */
export interface TimerShape {
  readonly name: string;
  readonly family: string;
  readonly pins: Readonly<Record<string, string>>;
}

/** The field whose text stands beside the symbol, by kind; parts without an entry show none. */
const shownField: Readonly<Record<string, string>> = {
  supply: 'voltage',
  resistor: 'resistance',
  pot: 'resistance',
  capacitor: 'capacitance',
  led: 'colour',
  diode: 'forward',
  probe: 'resistance',
  source: 'current',
  speaker: 'resistance',
  transistor: 'polarity',
  relay: 'resistance',
  solenoid: 'resistance',
  buzzer: 'resistance',
};

/**
 * The parts of a circuit with two ends, and perhaps a third at their side, in the order of the parts list. A finger
 * counts, its other end is the body.
 */
export function shapesOf(parts: readonly PartRow[]): Shape[] {
  return parts.flatMap((part) => {
    const { first, second, side } = endsOfNets(part.nets);
    if (part.kind === 'timer' || first === undefined) return [];
    const field = part.fields.find((each) => each.name === shownField[part.kind]);
    return [
      ...contactOf(part),
      {
        name: part.name,
        kind: field?.text === 'pnp' ? 'transistor pnp' : part.kind,
        title: part.title,
        ends: [first, second] as const,
        ...(side === undefined ? {} : { side }),
        value: valueBeside(part),
        polarised: part.fields.some((each) => each.name === 'polarised' && /^(true|yes)/.test(each.text)),
      },
    ];
  });
}

/** What stands beside a symbol: the forward voltage of a diode where it is stated, the gain of a transistor that has one. */
function valueBeside({ kind, fields }: PartRow): string {
  const field = fields.find((each) => each.name === shownField[kind]);
  const gain = fields.find(({ name, given }) => name === 'gain' && given);
  if (field === undefined || (kind === 'diode' && !field.given)) return '';
  // A colour of two words is written as one in files.
  const text = field.text.replaceAll('_', ' ');
  return gain === undefined ? text : `${text}, gain ${gain.text}`;
}

/**
 * The contact of a relay, drawn apart from its winding under the same name (detached representation, IEC 61082-1, from
 * memory): a make, a break or a changeover contact.
 */
function contactOf({ name, nets }: PartRow): Shape[] {
  const { common, normallyOpen, normallyClosed } = nets;
  const end = normallyOpen ?? normallyClosed;
  if (common === undefined || end === undefined) return [];
  const form = normallyOpen === undefined ? 'break' : normallyClosed === undefined ? 'make' : 'changeover';
  return [
    {
      name,
      label: name,
      kind: `relay ${form}`,
      title: `${form} contact`,
      ends: [end, common],
      ...(form === 'changeover' && normallyClosed !== undefined ? { side: normallyClosed } : {}),
      value: '',
      polarised: false,
    },
  ];
}

/** The nets at the ends of a part and at its side, of those at its terminals. */
export function endsOfNets(nets: Readonly<Record<string, string>>): {
  readonly first: string | undefined;
  readonly second: string | undefined;
  readonly side: string | undefined;
} {
  return {
    first: nets['a'] ?? nets['plus'] ?? nets['collector'],
    second: nets['b'] ?? nets['minus'] ?? nets['emitter'],
    side: nets['wiper'] ?? nets['base'],
  };
}

/** The timers of a circuit, in the order of the parts list. */
export function timerShapesOf(parts: readonly PartRow[]): TimerShape[] {
  return parts
    .filter((part) => part.kind === 'timer')
    .map((part) => ({
      name: part.name,
      family: part.fields.find((field) => field.name === 'family')?.text ?? '',
      pins: part.nets,
    }));
}
