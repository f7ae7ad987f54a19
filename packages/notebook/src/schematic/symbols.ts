/** One stroke or area of a symbol: SVG path data around the centre, y downwards, ends at (0, -20) and (0, 20). */
export interface Stroke {
  readonly path: string;
  /** `outline` is filled with the ground so that nothing shows through, `ink` is filled with ink, `line` is not filled. */
  readonly fill: 'outline' | 'ink' | 'line';
}

const line = (path: string): Stroke => ({ path, fill: 'line' });
const outline = (path: string): Stroke => ({ path, fill: 'outline' });
const ink = (path: string): Stroke => ({ path, fill: 'ink' });

const resistor = [line('M0-20V-14M0 14V20'), outline('M-6-14h12v28h-12z')];
const diode = [line('M0-20V20M-8 7H8'), ink('M-8-7H8L0 7z')];
const bipolar = [line('M-12 0H-6M-6-9V9M-6-5L0-11V-20M-6 5L0 11V20')];
const contact = [line('M0-20V-8M0 8V20M0 8L-9-7')];

/**
 * Graphic symbols after IEC 60617 by kind of part, upright, first end on top. A kind without a symbol of its own is a
 * plain box.
 */
const symbols: Readonly<Record<string, readonly Stroke[]>> = {
  resistor,
  pot: [...resistor, line('M-12 0H-6'), ink('M-6 0l-6-3.2v6.4z')],
  capacitor: [line('M0-20V-4M0 4V20M-11-4H11M-11 4H11')],
  supply: [line('M0-20V-4M0 4V20M-12-4H12M-6 4H6')],
  signal: [line('M0-20V-12M0 12V20'), outline('M-12 0a12 12 0 1 0 24 0a12 12 0 1 0-24 0z'), line('M-7 4h4v-8h6v8h4')],
  diode,
  led: [...diode, line('M9-9l6-6M12-5l6-6'), ink('M15-15l-5 1.4 3.6 3.6zM18-11l-5 1.4 3.6 3.6z')],
  button: [...contact, line('M-5 0H-16M-16-5V5')],
  switch: contact,
  jumper: [
    line('M0-20V-11M0 11V20M0-7V7'),
    outline('M-3.5-9a3.5 3.5 0 1 0 7 0a3.5 3.5 0 1 0-7 0zM-3.5 9a3.5 3.5 0 1 0 7 0a3.5 3.5 0 1 0-7 0z'),
  ],
  probe: [line('M0-20V-11M0 11V20'), outline('M-11 0a11 11 0 1 0 22 0a11 11 0 1 0-22 0z'), line('M-5-5L0 5L5-5')],
  source: [line('M0-20V-12M0 12V20'), outline('M-12 0a12 12 0 1 0 24 0a12 12 0 1 0-24 0z'), line('M-12 0H12')],
  speaker: [line('M0-20V-9M0 9V20'), outline('M-5-9h10v18h-10zM5-5l8-7v24l-8-7z')],
  // The arrow at the emitter, the lower end, points with the current: outwards in an npn, inwards in a pnp.
  transistor: [...bipolar, ink('M1.5 11l-4.6-1.2 3-3.4z')],
  'transistor pnp': [...bipolar, ink('M-5 5l4.6 1.2-3 3.4z')],
  finger: [line('M0-20V-6M-11-6H11'), line('M-11 2H11M-7 2v10M7 2v10M-7 12a7 7 0 0 0 14 0')],
};

/** Contacts that a hand closes, while it does. */
const closed: Readonly<Record<string, readonly Stroke[]>> = {
  button: [line('M0-20V-8M0 8V20M0 8V-8M0 0H-16M-16-5V5')],
  switch: [line('M0-20V20')],
};

/** Strokes of a kind of part; of a contact that closes when worked also while it is. */
export function strokesOf(kind: string, isWorked = false): readonly Stroke[] {
  return (
    (isWorked ? closed[kind] : undefined) ?? symbols[kind] ?? [line('M0-20V-12M0 12V20'), outline('M-10-12h20v24h-20z')]
  );
}
