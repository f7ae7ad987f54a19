import { spokenName } from '#sim/quantity/index.ts';
import { expect, test } from 'vitest';

test.each([
  ['R1', 'R1'],
  ['C1.leakage', 'C1 leakage'],
  ['G1.wave.period', 'G1 period'],
  ['U1.trigger_delay', 'U1 trigger delay'],
  ['U1.with.transitionTime', 'U1 with transition time'],
  ['S1.press[0].for', 'S1 press 1 for'],
  // A part may be named with a line below; a field is not.
  ['R_top.power', 'R_top power'],
])('%s is called %s in a sentence', (name, words) => {
  expect(spokenName(name)).toBe(words);
});
