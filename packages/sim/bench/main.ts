import { divider, oneState, threeStates, twoStates } from './circuits.ts';
import { eventCost } from './events.ts';
import { expCost } from './exp-cost.ts';
import { oneStateModes, twoStatesModes } from './hand-modes.ts';
import { longRun } from './long-run.ts';
import { integrateModes } from './ode-package.ts';

const exp = expCost();
console.log(
  `Math.exp: ${exp.toFixed(2)} ns per call. Every line below is from this same run; ratios carry over, times do not.`,
);
console.log('\nGeneric engine, warm, medians of 9:');
const perEvent = new Map<string, number>();
for (const [name, circuit, until, allowed] of [
  ['1 state, free running', oneState, 500, 8],
  ['2 states, loaded CONTROL', twoStates, 500, 20],
  ['3 states, oscillator into divider', threeStates, 500, 40],
  ['divider, ideal family', divider('ideal'), 100, undefined],
  ['divider, bipolar family', divider('bipolar'), 100, undefined],
] as const) {
  const around = Math.min(exp, expCost());
  const cost = eventCost(circuit, until);
  perEvent.set(name, cost.perEvent);
  const ratio = cost.perEvent / around;
  const verdict = allowed === undefined ? '' : `, allowed ${allowed} x: ${ratio <= allowed ? 'kept' : 'EXCEEDED'}`;
  console.log(
    `  ${name.padEnd(36)} ${cost.perEvent.toFixed(0).padStart(5)} ns per event = ${ratio.toFixed(1)} x Math.exp${verdict}` +
      ` (${cost.perSegment.toFixed(0)} ns per stretch of time)`,
  );
}

console.log(
  '\nGeneral-purpose ODE package on the same equations, by hand, 100 events, events by bisection on dense output:',
);
for (const [name, key, modes, start, reach] of [
  ['1 state', '1 state, free running', oneStateModes, [0], 0.1],
  ['2 states', '2 states, loaded CONTROL', twoStatesModes, [0, 0], 0.1],
] as const) {
  for (const tolerance of [1e-6, 1e-9]) {
    integrateModes(modes, start, 100, tolerance, reach);
    const samples = Array.from({ length: 5 }, () => {
      const begin = process.hrtime.bigint();
      integrateModes(modes, start, 100, tolerance, reach);
      return Number(process.hrtime.bigint() - begin) / 100;
    }).sort((a, b) => a - b);
    const cost = samples[2]!;
    console.log(
      `  ${name}, tolerance ${tolerance}: ${(cost / 1000).toFixed(0)} us per event = ${(cost / perEvent.get(key)!).toFixed(0)} x the engine`,
    );
  }
}

console.log('\nLong run in constant memory:');
console.log(`  ${longRun(10_000_000)}`);
