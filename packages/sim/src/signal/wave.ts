/** A voltage (or any other input) as a function of time; all numbers in SI units. */
export type Wave =
  | { readonly shape: 'constant'; readonly level: number }
  | {
      /** Pulse k lasts from `delay + k period` for `width`; `rest` before and between. */
      readonly shape: 'pulses';
      readonly period: number;
      readonly width: number;
      readonly rest: number;
      readonly pulse: number;
      readonly delay: number;
      /** Number of pulses; `Infinity` when endless. */
      readonly count: number;
    }
  | {
      /** `low` before `delay`, then the high part first. */
      readonly shape: 'square';
      readonly frequency: number;
      readonly duty: number;
      readonly high: number;
      readonly low: number;
      readonly delay: number;
    }
  | {
      /** `offset + amplitude sin(2 pi frequency t + phase)`, in 84 straight lines a period (see `signal/chords.ts`). */
      readonly shape: 'sine';
      readonly frequency: number;
      readonly amplitude: number;
      readonly offset: number;
      /** In radians. */
      readonly phase: number;
    }
  | {
      /** Times ascend (equal times make a jump); first and last value hold outside. */
      readonly shape: 'points';
      readonly points: readonly (readonly [time: number, value: number])[];
      readonly between: 'lines' | 'steps';
    };
