/*
 * What is usual, for questions of the kind "what if". None of these figures is a limit that somebody guarantees; every
 * question that takes one says so beside its answer.
 */

/** Voltages that batteries have: of two, three, four, six and eight cells of 1.5 V. Nominal voltages, from memory. */
export const BATTERY_VOLTAGES: readonly number[] = [3, 4.5, 6, 9, 12];
/** Voltages that mains supplies usually have; common practice, no source. */
export const SUPPLY_VOLTAGES: readonly number[] = [3.3, 5, 6, 9, 12, 15];
/** A cell of a battery: its nominal voltage when new, and what is left of it when it is tired, V; common practice, no source. */
export const CELL = { fresh: 1.5, tired: 1.1 } as const;
/** What a tired cell has inside, Ω: small cells have more, large ones less; common practice, no source. */
export const TIRED_CELL_RESISTANCE = 1;
/** Inputs of instruments: a meter, and an oscilloscope's input behind a lead without a divider; common practice, no source. */
export const INSTRUMENTS = [
  { key: 'meter', words: 'a meter', about: 'A meter', resistance: '10 MΩ', capacitance: '100 pF' },
  {
    key: 'bare probe',
    words: 'a bare probe',
    about: 'A probe without a divider, at an oscilloscope,',
    resistance: '1 MΩ',
    capacitance: '100 pF',
  },
] as const;
/** How long a supply takes that comes up slowly, s; common practice, no source. */
export const SLOW_RISE = 0.1;
/** When a switch of a supply makes and breaks, s: contacts bounce for some milliseconds; common practice, no source. */
export const BOUNCES: readonly (readonly [makes: number, breaks: number])[] = [
  [0.4e-3, 0.9e-3],
  [1.3e-3, 2.1e-3],
  [2.6e-3, 3.8e-3],
];
/** When it has made for good, s. */
export const MADE_AT = 4.4e-3;
/** From here on a capacitor is an electrolytic as a rule, F; common practice, no source. */
export const ELECTROLYTIC_FROM = 1e-6;
/**
 * An electrolytic: the time in which its leakage would empty it, s (a leakage of 0.01 C V a second, the limit of many
 * catalogues); its loss factor at 120 Hz; how far off its marking it may be, as a share. From memory.
 */
export const ELECTROLYTIC = { leaksIn: 100, lossFactor: 0.15, lossAt: 120, tolerance: 0.2 } as const;
