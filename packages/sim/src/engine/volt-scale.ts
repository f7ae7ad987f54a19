import type { Wave } from '../signal/wave.ts';
import type { Program } from './program.ts';

/** The largest voltage (V) among a program's own numbers, at least 1 mV: the yardstick for what is rounding. */
export function voltScale(program: Program): number {
  let scale = 1e-3;
  const see = (value: number): void => {
    scale = Math.max(scale, Math.abs(value));
  };
  for (const { wave } of program.inputs) levelsOf(wave).forEach(see);
  program.initial.forEach(see);
  for (const branch of program.branches) {
    for (const { law } of branch.pieces) if (law.kind === 'thevenin') see(law.offset);
  }
  return scale;
}

function levelsOf(wave: Wave): readonly number[] {
  switch (wave.shape) {
    case 'constant':
      return [wave.level];
    case 'pulses':
      return [wave.rest, wave.pulse];
    case 'square':
      return [wave.low, wave.high];
    case 'sine':
      return [wave.offset - wave.amplitude, wave.offset + wave.amplitude];
    case 'points':
      return wave.points.map(([, value]) => value);
  }
}
