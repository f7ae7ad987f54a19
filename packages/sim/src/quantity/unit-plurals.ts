import type { Unit } from './unit.ts';

/** Units in words, as people say them of several; what a share is called depends on where it is said. */
export const unitPlurals: Readonly<Record<Exclude<Unit, 'share'>, string>> = {
  V: 'volts',
  A: 'amperes',
  Ω: 'ohms',
  F: 'farads',
  s: 'seconds',
  Hz: 'hertz',
  W: 'watts',
  H: 'henries',
  C: 'coulombs',
  J: 'joules',
  rad: 'radians',
};
