import { divider, oneState, threeStates, twoStates } from './circuits.ts';
import { eventCost } from './events.ts';
import { expCost } from './exp-cost.ts';

const exp = expCost();
console.log(`Math.exp: ${exp.toFixed(2)} ns per call`);
for (const [name, circuit, until] of [
  ['1 state ', oneState, 500],
  ['2 states', twoStates, 500],
  ['3 states', threeStates, 500],
  ['divider ', divider('ideal'), 100],
  ['divider bipolar', divider('bipolar'), 100],
] as const) {
  const cost = eventCost(circuit, until);
  console.log(
    `${name}  ${cost.perSegment.toFixed(0)} ns per segment (${(cost.perSegment / exp).toFixed(1)} x Math.exp), ${cost.perEvent.toFixed(0)} ns per event`,
  );
}
