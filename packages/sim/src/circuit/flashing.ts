/**
 * Flashes a second from which on, and up to which, a flashing lamp can set off fits (Hz). The lower end is that of WCAG
 * 2.2, success criterion 2.3.1; the upper end is common practice, no source.
 */
export const FLASHING = { from: 3, to: 60 } as const;

/** What flashing lamps can do; ends a sentence that has named them. */
export const FLASHING_HARM = `lamps that flash ${FLASHING.from} to ${FLASHING.to} times a second can set off fits in people who are sensitive to it`;
