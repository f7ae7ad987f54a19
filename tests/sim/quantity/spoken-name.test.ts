import { spokenName } from '#sim/quantity/index.ts';
import { expect, test } from 'vitest';

test.each([
  ['R1', 'R1'],
  ['C1.leakage', 'C1 leakage'],
  ['G1.wave.period', 'G1 period'],
  ['U1.trigger_delay', 'U1 trigger delay'],
  ['U1.with.transitionTime', 'U1 transition time'],
  ['G1.wave.points[2][0]', 'G1 point 3 time'],
  ['G1.wave.points[2][1]', 'G1 point 3 voltage'],
  ['S1.presses[0].for', 'S1 press 1 for'],
  ['T1.touches[1].at', 'T1 touch 2 at'],
  ['BT1.changes[0].voltage', 'BT1 change 1 voltage'],
  ['S1.bounce.for', 'S1 bounces for'],
  ['S1.bounce.seed', 'S1 bounces by seed'],
  // A part may be named with a line below; a field is not.
  ['R_top.power', 'R_top power'],
])('%s is called %s in a sentence', (name, words) => {
  expect(spokenName(name)).toBe(words);
});
