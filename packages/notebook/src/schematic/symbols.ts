import type { SymbolStandard } from '@two-thirds/sim/document';

/** One stroke or area of a symbol: SVG path data around the centre, y downwards, ends at (0, -20) and (0, 20). */
export interface Stroke {
  readonly path: string;
  /** `outline` is filled with the ground so that nothing shows through, `ink` is filled with ink, `line` is not filled. */
  readonly fill: 'outline' | 'ink' | 'line';
}

type Symbols = Readonly<Record<string, readonly Stroke[]>>;

const line = (path: string): Stroke => ({ path, fill: 'line' });
const outline = (path: string): Stroke => ({ path, fill: 'outline' });
const ink = (path: string): Stroke => ({ path, fill: 'ink' });

const resistor = [line('M0-20V-14M0 14V20'), outline('M-6-14h12v28h-12z')];
const diode = [outline('M-8-7H8L0 7z'), line('M0-20V20M-8 7H8')];
const light = [line('M9-9l6-6M12-5l6-6'), ink('M15-15l-5 1.4 3.6 3.6zM18-11l-5 1.4 3.6 3.6z')];
const bipolar = [line('M-12 0H-6M-6-9V9M-6-5L0-11V-20M-6 5L0 11V20')];
const circle = outline('M-12 0a12 12 0 1 0 24 0a12 12 0 1 0-24 0z');
const circleEnds = line('M0-20V-12M0 12V20');
const wiper = [line('M-12 0H-6'), ink('M-6 0l-6-3.2v6.4z')];
/** A contact open, and closed: then its blade rests against a hook at the other end. */
const contact = [line('M0-20V-8M0 8V20M0 8L-9-7')];
const closedContact = [line('M0-20V-8H-5M0 8V20M0 8L-4-10')];
/** A winding: a rectangle with its leads at the long sides. */
const winding = [line('M0-20V-7M0 7V20'), outline('M-12-7h24v14h-24z')];
/** Two sockets, and what joins them. */
const sockets = [
  line('M0-20V-11.5M0 11.5V20'),
  outline('M-3.5-8a3.5 3.5 0 1 0 7 0a3.5 3.5 0 1 0-7 0zM-3.5 8a3.5 3.5 0 1 0 7 0a3.5 3.5 0 1 0-7 0z'),
];
const jumper = [...sockets, line('M0-4.5V4.5')];
const pulledJumper = [...sockets, line('M-2 5L-11-6')];

/**
 * Graphic symbols after IEC 60617 (from memory of the standard; the symbols of probe and finger are made here), upright,
 * first end on top. A kind without a symbol of its own is a plain box.
 */
const iec: Symbols = {
  resistor,
  pot: [...resistor, ...wiper],
  capacitor: [line('M0-20V-4M0 4V20M-11-4H11M-11 4H11')],
  supply: [line('M0-20V-4M0 4V20M-12-4H12M-6 4H6')],
  signal: [circleEnds, circle, line('M-7 4h4v-8h6v8h4')],
  diode,
  led: [...diode, ...light],
  button: [...contact, line('M-5 0H-16M-16-5V5')],
  switch: contact,
  jumper: pulledJumper,
  probe: [line('M0-20V-11M0 11V20'), outline('M-11 0a11 11 0 1 0 22 0a11 11 0 1 0-22 0z'), line('M-5-5L0 5L5-5')],
  source: [circleEnds, circle, line('M-12 0H12')],
  speaker: [line('M0-20V-9M0 9V20'), outline('M-5-9h10v18h-10zM5-5l8-7v24l-8-7z')],
  // The arrow at the emitter, the lower end, points with the current: outwards in an npn, inwards in a pnp.
  transistor: [...bipolar, ink('M1.5 11l-4.6-1.2 3-3.4z')],
  'transistor pnp': [...bipolar, ink('M-5 5l4.6 1.2-3 3.4z')],
  relay: winding,
  solenoid: winding,
  // At rest: the blade of a break contact lies behind its hook, that of a changeover contact at the end on its left.
  'relay make': contact,
  'relay break': closedContact,
  'relay changeover': [line('M0-20V-8M0 8V20M0 8L-7-8M-8 0H-10V-8H-6')],
  buzzer: [line('M0-20V-6H4M4 6H0V20'), outline('M4-11a11 11 0 0 1 0 22z')],
  finger: [line('M0-20V-6M-11-6H11'), line('M-11 2H11M-7 2v10M7 2v10M-7 12a7 7 0 0 0 14 0')],
};

const closedIec: Symbols = {
  button: [...closedContact, line('M-2 0H-16M-16-5V5')],
  switch: closedContact,
  jumper,
  // A relay that is pulled in.
  'relay make': closedContact,
  'relay break': [line('M0-20V-8H-5M0 8V20M0 8L-13-6')],
  'relay changeover': [line('M0-20V-8H-3M0 8V20M0 8L-2-10M-8 0H-10V-8H-6')],
  finger: [line('M0-20V-6M-11-6H11'), line('M-11-4H11M-7-4v10M7-4v10M-7 6a7 7 0 0 0 14 0')],
};

const zigzag = line('M0-20V-14L6-11.7L-6-7L6-2.3L-6 2.3L6 7L-6 11.7L0 14V20');
const filledDiode = [line('M0-20V20M-8 7H8'), ink('M-8-7H8L0 7z')];
const buttonBar = (x: number): Stroke => line(`M${x}-11V11M${x} 0H-17`);

/**
 * The symbols of IEEE Std 315-1975 where they differ (from memory of the standard): the zig-zag of resistors, the curved
 * plate of capacitors, filled diodes, contacts between small circles, the arrow of a current source (common practice).
 */
const ieee: Symbols = {
  resistor: [zigzag],
  pot: [zigzag, ...wiper],
  capacitor: [line('M0-20V-4M0 2V20M-11-4H11M-11 6Q0-2 11 6')],
  diode: filledDiode,
  led: [...filledDiode, ...light],
  button: [...sockets, buttonBar(-9)],
  switch: [...sockets, line('M-1.5 4.8L-10-8')],
  source: [circleEnds, circle, line('M0-7V7'), ink('M0 9l-3.6-6h7.2z')],
};

const closedIeee: Symbols = {
  button: [...sockets, buttonBar(-3.5)],
  switch: [...sockets, line('M0-4.5V4.5')],
};

const plainBox = [line('M0-20V-12M0 12V20'), outline('M-10-12h20v24h-20z')];

/** Whether a kind has a symbol of its own for when it conducts. */
export function isDrawnClosed(kind: string): boolean {
  return Object.hasOwn(closedIec, kind);
}

/** Strokes of a kind of part in a standard. @param isClosed of a contact, whether it conducts; of a relay, whether it is pulled in. */
export function strokesOf(kind: string, standard: SymbolStandard = 'IEC 60617', isClosed = false): readonly Stroke[] {
  const sets = standard === 'IEC 60617' ? [] : isClosed ? [closedIeee, ieee] : [ieee];
  const general = isClosed ? [closedIec, iec] : [iec];
  // A kind that is closed in the general set alone, such as a jumper, is drawn by it in both standards.
  const found = [...sets, ...general].find((set) => set[kind] !== undefined);
  return found?.[kind] ?? plainBox;
}
