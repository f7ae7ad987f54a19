/**
 * How a run ended. A closed list; every ending is a value, never a thrown error.
 *
 * - `reached`  the run reached the time asked for
 * - `paused`   the run handled as many events as it was given at a time; it can go on
 * - `short`    two sources without resistance were joined at different voltages
 * - `rings`    transistors with a gain feed back so that voltages swing, which is not computed
 * - `grows`    transistors with a gain drive each other on, and no state is found in which they rest
 * - `undecided` of several states that transistors with a gain may come to, only stray capacitances tell which
 * - `alike`    two rates around a transistor with a gain are too nearly the same to be told apart
 * - `curves`   what a transistor with a gain passes on makes the voltage of a capacitor a parabola, which is not computed
 * - `chatter`  devices kept switching each other at one instant
 * - `budget`   the run used up the number of events it was allowed
 * - `stopped`  the caller stopped it
 */
export type OutcomeCode =
  | 'reached'
  | 'paused'
  | 'short'
  | 'rings'
  | 'grows'
  | 'undecided'
  | 'alike'
  | 'curves'
  | 'chatter'
  | 'budget'
  | 'stopped';

/** Endings after which a run cannot go on. */
export type FailureCode = Exclude<OutcomeCode, 'reached' | 'paused'>;

/** The end of a run: how, when, after how many events, and for people why. */
export interface Outcome {
  readonly code: OutcomeCode;
  /** True only for `reached` and `paused`. */
  readonly ok: boolean;
  /** Where the run stopped, in seconds. */
  readonly time: number;
  /** Events handled. */
  readonly events: number;
  /** For people: what happened and which parts took part. Absent when `ok`. */
  readonly message?: string;
  /** Names of the parts involved. */
  readonly parts?: readonly string[];
}

/** What to tell people about a run that ended before its time. `budget` is the number of events that were allowed. */
export function failureMessage(code: FailureCode, parts: readonly string[], budget: number): string {
  const named = parts.join(', ');
  const one = parts.length === 1 ? 's' : '';
  switch (code) {
    case 'short':
      return `${named} are joined with no resistance between different voltages. Put a resistance in the path, or open one of them.`;
    case 'rings':
      return `What ${named} feed${one} back makes voltages swing, which is not computed. Break the way back, or leave gain out and state drive.`;
    case 'grows':
      return `${named} drive${one} what drives ${one === 's' ? 'it' : 'them'} further and further, and no state was found in which ${one === 's' ? 'it rests' : 'they rest'}. Put a capacitor where the circuit gets its time from, or break the way back.`;
    case 'undecided':
      return `Which state ${named} come${one} to is not decided by the circuit as it is drawn: stray capacitances or the smallest difference would tell. Draw a capacitor, of 10 pF say, across the base that is the slower one, or make the two sides differ.`;
    case 'alike':
      return `Two time constants around ${named} are so nearly the same that digits are lost. Change a resistor or a capacitor there by some hundredths.`;
    case 'curves':
      return `What ${named} pass${one === 's' ? 'es' : ''} on changes evenly and goes into a capacitor that nothing else discharges: its voltage is a parabola, which is not computed. Give the capacitor a leakage, or put a large resistor across it.`;
    case 'chatter':
      return `${named} keep switching each other without time passing: there is no state in which they rest. Look for a comparator that drives its own limit, or give the way back a capacitor, from which the switching would get its time.`;
    case 'budget':
      return `The run used up its ${budget} events. Ask for a shorter time or slower inputs.`;
    case 'stopped':
      return 'The run was stopped.';
  }
}
