import { wholePages } from './command.ts';
import { standardDevices } from '../src/device/standard-devices.ts';
import { Driver } from '../src/engine/driver.ts';
import { buildProgram } from '../src/engine/program.ts';
import { divider, fourStates, oneState, threeStates, twoStates } from './circuits.ts';
import { eventCost } from './events.ts';
import { oneStateModes, twoStatesModes } from './hand-modes.ts';
import { longRun } from './long-run.ts';
import { kitOf } from './kit.ts';
import { integrateModes } from './ode-package.ts';
import { oneStateCost } from './one-state.ts';
import { ordinaryCost } from './ordinary.ts';
import { recordedStretches } from './recorded-modes.ts';
import { monostableSpread, ratioMap } from './study.ts';

/** With `--limits` only the limits are looked at, with this much room for a noisy machine. */
const limitsOnly = process.argv.includes('--limits');
const room = limitsOnly ? 1.25 : 1;
/** Calls of `Math.exp` that an event may cost on the short way. */
const ONE_STATE_MOST = 1.5;
/** Runs after which the compiler of the machine has seen enough of how modes are found. */
const RUNS_TO_COMPILE = 3000;

console.log(
  'Generic engine, warm. All figures are from this one run; ratios carry over to other machines, times do not.',
);
/** By name of the circuit: how long a stretch of time between events takes (ns), and how many events there are to one. */
const stretches = new Map<string, { readonly cost: number; readonly events: number }>();
for (const [name, circuit, until, allowed] of [
  ['1 state, free running', oneState, 1000, 8],
  ['2 states, loaded CONTROL', twoStates, 1000, 20],
  ['3 states, oscillator into divider', threeStates, 1000, 40],
  ['4 states, the same, CONTROL loaded', fourStates, 1000, 48],
  ['divider, ideal family', divider('ideal'), 500, undefined],
  ['divider, bipolar family', divider('bipolar'), 250, undefined],
] as const) {
  if (limitsOnly && allowed === undefined) continue;
  const cost = eventCost(circuit, until);
  stretches.set(name, { cost: cost.perStretch, events: cost.perStretch / cost.perEvent });
  console.log(
    `  ${name.padEnd(34)} ${cost.perEvent.toFixed(0).padStart(4)} ns per event = ${told(cost.ratio, 1, allowed)}` +
      ` (medians: ${cost.medianRatio.toFixed(1)} x; ${cost.perStretch.toFixed(0)} ns per stretch of time)`,
  );
}
console.log('Short way for one capacitor, warm:');
for (const [name, circuit, until] of [
  ['free running', oneState, 40],
  ['divider, ideal family', divider('ideal'), 4],
  ['divider, bipolar family', divider('bipolar'), 4],
] as const) {
  const { perEvent: cost, ratio } = oneStateCost(circuit, 'out', until);
  console.log(`  ${name.padEnd(34)} ${cost.toFixed(1).padStart(4)} ns per event = ${told(ratio, 2, ONE_STATE_MOST)}`);
}
if (!limitsOnly) compareAndRunLong();

/** A cost in calls of `Math.exp`, with its limit where there is one; exceeding it fails the run. */
function told(ratio: number, digits: number, allowed: number | undefined): string {
  const text = `${ratio.toFixed(digits)} x Math.exp`;
  if (allowed === undefined) return text;
  const kept = ratio <= allowed * room;
  if (!kept) process.exitCode = 1;
  return `${text}, allowed ${allowed} x: ${kept ? 'kept' : 'EXCEEDED'}`;
}

function compareAndRunLong(): void {
  console.log(
    '\nGeneral-purpose ODE package on the same equations, by hand, 100 stretches, their ends by bisection on dense output:',
  );
  for (const [name, key, modes, start, reach] of [
    ['1 state', '1 state, free running', oneStateModes, [0], 0.1],
    ['2 states', '2 states, loaded CONTROL', twoStatesModes, [0, 0], 0.1],
  ] as const) {
    for (const tolerance of [1e-6, 1e-9]) {
      const cost = least(() => integrateModes(modes, start, 100, tolerance, reach)) / 100;
      console.log(
        `  ${name}, tolerance ${tolerance}: ${(cost / 1000).toFixed(0)} us per stretch = ${(cost / stretches.get(key)!.cost).toFixed(0)} x the engine`,
      );
    }
  }

  for (const [name, key, circuit, net] of [
    ['1 state', '1 state, free running', oneState, 'out'],
    ['3 states', '3 states, oscillator into divider', threeStates, undefined],
  ] as const) {
    const recorded = recordedStretches(circuit, 100);
    const { cost: perStretch, events } = stretches.get(key)!;
    const atATime = Math.round(100 * events);
    let off = 0;
    const cost = least(() => {
      for (const { mode, start, length } of recorded) {
        const [time] = integrateModes([mode], start, 1, 1e-9, 2 * length);
        off = Math.max(off, Math.abs(time! / length - 1));
      }
    });
    const finding = (): void => {
      const driver = new Driver(buildProgram(circuit, standardDevices), []);
      if (driver.advance(1e9, { maxEvents: 1e9, atATime }).code !== 'paused')
        throw new Error(`bench: the run must have ${atATime} events; it had not.`);
    };
    const cold = least(finding, 10);
    for (let run = 0; run < RUNS_TO_COMPILE; run++) finding();
    const compiled = least(finding, 200);
    console.log(
      `  ${name}, the engine's own equations, tolerance 1e-9: ${(cost / 1e5).toFixed(0)} us per stretch = ` +
        `${(cost / 100 / perStretch).toFixed(0)} x the engine warm, with all its modes to find ${(cost / cold).toFixed(0)} x in the first ten runs and ` +
        `${(cost / compiled).toFixed(0)} x once that is compiled; ` +
        `times differ by up to ${off.toExponential(0)}`,
    );
    if (net === undefined) continue;
    const stretch = cost / 100;
    const { perEvent: short } = oneStateCost(circuit, net, 40);
    console.log(
      `    the short way for one capacitor, which maps of a ratio take and ordinary runs do not, edges of ${net} told: ${(stretch / events / short).toFixed(0)} x`,
    );
    for (const [until, countPeriods] of [
      [10, false],
      [10, true],
      [1000, true],
    ] as const) {
      const ordinary = ordinaryCost(circuit, net, until, countPeriods);
      console.log(
        `    an ordinary run of ${ordinary.events} events with all its modes to find, edges of ${net} watched, ` +
          `periods ${countPeriods ? 'counted where it repeats itself' : 'gone through'}: ${(stretch / events / ordinary.perEvent).toFixed(0)} x`,
      );
    }
  }

  console.log('\nRatio of a divider over two of its values:');
  console.log(`  ${ratioMap(200)}`);

  console.log(
    '\nWidth of a monostable within the tolerances of two parts, as calls of the library (by the command line: below):',
  );
  for (const family of ['ideal', 'bipolar']) console.log(`  ${family}: ${monostableSpread(family, 10_000)}`);

  console.log('\nEvery combination of a kit, the goal being 10 000 in 2 s:');
  console.log(`  ${kitOf('monostable', 60)}`);
  console.log(`  ${kitOf('frequency divider', 60)}`);

  console.log('\nWhole pages by the command line, start and threads included, by the clock (of a quiet machine):');
  const program = process.env['TWO_THIRDS_PROGRAM'];
  if (program === undefined) throw new Error('bench: TWO_THIRDS_PROGRAM must name the built program.');
  for (const line of wholePages(program)) console.log(`  ${line}`);

  console.log('\nLong run in constant memory:');
  console.log(`  ${longRun(10_000_000, false)}`);
  console.log(`  ${longRun(1e12, true)}`);
}

/**
 * Nanoseconds of the processor that something takes: the least of some times, for what else a machine does makes it dearer,
 * never cheaper.
 */
function least(work: () => void, times = 15): number {
  work();
  let found = Infinity;
  for (let time = 0; time < times; time++) {
    const before = process.cpuUsage();
    work();
    const { user, system } = process.cpuUsage(before);
    found = Math.min(found, (user + system) * 1e3);
  }
  return found;
}
