/** The word for an edge in a reading. */
export type EdgeWord = 'rise' | 'fall';

/** How a reading is called. */
export interface ReadingForm {
  /** What stands first: one net, two nets, a net and a time, or a part. */
  readonly takes: 'net' | 'two nets' | 'net and time' | 'part';
  /** Whether a limit in volts may follow, above which a net counts as high. */
  readonly limit: boolean;
  /** How many edge words may follow. */
  readonly edges: 0 | 1 | 2;
  /** An example, for messages. */
  readonly example: string;
  /** What it gives, in a few words. */
  readonly title: string;
}

const net = { takes: 'net', limit: true, edges: 1 } as const;
const span = { takes: 'net', limit: true, edges: 0 } as const;
const pair = { takes: 'two nets', limit: true, edges: 2 } as const;
const plain = { takes: 'net', limit: false, edges: 0 } as const;
const part = { takes: 'part', limit: false, edges: 0 } as const;

/** Every reading by name. */
export const readingForms = {
  width: { ...span, example: 'width(out)', title: 'mean high time of complete pulses' },
  low: { ...span, example: 'low(out)', title: 'mean low time between pulses' },
  period: { ...net, example: 'period(out)', title: 'mean time from rise to rise' },
  frequency: { ...net, example: 'frequency(out)', title: 'complete periods per second' },
  duty: { ...net, example: 'duty(out)', title: 'high share of complete periods' },
  count: { ...net, example: 'count(out)', title: 'rises' },
  ratio: { ...pair, example: 'ratio(out, in)', title: 'rises of the second net for each rise of the first' },
  delay: {
    ...pair,
    example: 'delay(in, out)',
    title: 'mean time from a rise of the first net to the next of the second',
  },
  first: { ...net, example: 'first(out)', title: 'time of the first rise' },
  level: { takes: 'net and time', limit: false, edges: 0, example: 'level(out, 2 s)', title: 'voltage at a time' },
  peak: { ...plain, example: 'peak(out)', title: 'highest voltage' },
  trough: { ...plain, example: 'trough(out)', title: 'lowest voltage' },
  mean: { ...plain, example: 'mean(out)', title: 'mean voltage' },
  current: { ...part, example: 'current(R1)', title: 'mean current from the first net to the second' },
  peak_current: { ...part, example: 'peak_current(R1)', title: 'largest current in either direction' },
  power: { ...part, example: 'power(R1)', title: 'mean power taken up' },
  light: { ...part, example: 'light(LED1)', title: 'mean current as a share of the limit current' },
  widths: { ...span, example: 'widths(out)', title: 'high time of every complete pulse' },
  lows: { ...span, example: 'lows(out)', title: 'every low time between pulses' },
  periods: { ...net, example: 'periods(out)', title: 'every time from rise to rise' },
  edges: { ...span, example: 'edges(out)', title: 'every edge' },
} as const satisfies Record<string, ReadingForm>;

/** Name of a reading. */
export type ReadingName = keyof typeof readingForms;

/** Names of all readings, in the order of the list. */
export const readingNames = Object.keys(readingForms) as readonly ReadingName[];
