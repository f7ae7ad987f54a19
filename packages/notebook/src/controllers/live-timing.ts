/** Time that the worker may take for a frame (ms): it leaves room for what else the machine has to do. */
export const BUDGET = 12;
/** The longest time of a frame that is made up for (s): what a page missed longer than that did not happen. */
export const LONGEST_FRAME = 0.1;
/** Pause between two states of the whole board (s): figures that change faster cannot be read. */
export const STATE_PAUSE = 0.3;
/** Pause between two sentences (s), so that a screen reader keeps up. */
export const WORDS_PAUSE = 1;
/** Pause between two steps to the next event (s), so that no held key makes lamps flash. */
export const STEP_PAUSE = 0.35;
/** Time that the search for the next event may take (ms). */
export const SEARCH = 1500;
