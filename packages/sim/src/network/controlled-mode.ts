import { type Matrix, multiply, solveLower, solveLowerTransposed, transpose, zeros } from '../core/dense.ts';
import { closeLoop } from './closed-loop.ts';
import type { Network, OwnLaw } from './element.ts';
import { feedbackSpectrum, type Summed } from './feedback-spectrum.ts';
import type { Form } from './form.ts';
import type { Mode, Untold } from './mode.ts';
import { ModeReadouts } from './mode-readouts.ts';
import { type Port, removable } from './ports.ts';
import type { Elimination } from './reduce.ts';
import { modalRest, Rest, restMemory, type Still } from './rest.ts';
import { idleVoltages, joinedIdle, spectrum } from './spectrum.ts';

/**
 * How many times the largest voltage of the circuit the parts may be that a capacitor's voltage is the sum of. In a network
 * of resistances they are never much larger than the voltages themselves; where two rates come near each other they grow
 * as the inverse of the difference, and cancel. At 1e5 a voltage of 10 V is still good to some 1e-10 V.
 */
const MOST_CANCELLED = 1e5;

/**
 * Compiles a mode in which branches are controlled. The network without them, and without the controls where it can do
 * without, is turned to modal parts as ever; the currents of the controls feed these back into each other. If what comes
 * of it has real rates, with parts that do not cancel, every signal is a sum of real exponentials as in any other
 * mode. If not, the mode still tells what holds at an instant, so that settling may pass through it, but no time may pass.
 *
 * @param laws without control; see `withoutControl`.
 * @param elimination what eliminates the potentials of all modes of the network.
 */
export function controlledMode(
  network: Network,
  still: Still,
  form: Form,
  laws: readonly OwnLaw[],
  ports: readonly Port[],
  elimination: Elimination,
): Mode {
  const { tree, lower, upper, coupled, charge, memory } = form;
  const n = tree.states.length;
  const nU = tree.width - n;
  const m = ports.length;
  const out = removable(network, laws, tree, ports);
  const removed = new Set(ports.flatMap(({ control }, k) => (out[k] ? [control] : [])));
  const opened = laws.map((law, index): OwnLaw => (removed.has(index) ? { kind: 'open' } : law));
  const injections = ports.map(({ driven, control }, k) => [
    ...driven.map(({ branch, gain }) => ({ branch, times: gain })),
    ...(out[k] ? [{ branch: control, times: 1 }] : []),
  ]);
  const reduced = elimination.run(tree, opened, injections);
  const loop = closeLoop(network, tree, ports, reduced);
  const force = zeros(n, 1);
  for (let i = 0; i < n; i++) force.data[i] = reduced.force[i]!;
  const idle = idleVoltages(network, laws, tree);
  const { vectors, rates: ownRates } = spectrum(
    lower,
    reduced.conductors,
    joinedIdle(idle, idleVoltages(network, opened, tree)),
  );
  const ownState = solveLowerTransposed(lower, vectors);
  const vectorsT = transpose(vectors);

  // What the controls feed into the modal parts, and see of them.
  const forces = zeros(n, m);
  const sights = zeros(m, n);
  ports.forEach((_, l) => {
    for (let i = 0; i < n; i++) {
      forces.data[i * m + l] = reduced.responses[l]!.force[i]!;
      sights.data[l * n + i] = loop.currents[l]![i]!;
    }
  });
  const fed = summed(vectorsT, solveLower(lower, forces));
  const seen = summed(sights, ownState);
  for (let l = 0; l < m; l++) seen.value.data.fill(0, l * n, l * n + idle.columns);
  const spectral = loop.unique ? feedbackSpectrum(ownRates, idle.columns, fed, seen) : 'forks';
  const parts = ports.flatMap(({ driven }) => driven.map(({ part }) => part));
  const known = typeof spectral === 'string' ? undefined : withReach(spectral, ownState, vectorsT, upper);
  const untold: Untold | undefined =
    typeof spectral === 'string'
      ? { reason: spectral, parts }
      : known === undefined
        ? { reason: 'alike', parts }
        : undefined;
  const { toState, toModal, reach, rates } = known ?? {
    toState: ownState,
    toModal: vectorsT,
    reach: new Float64Array(n),
    rates: new Float64Array(n),
  };

  const projectInput = multiply(toModal, coupled).data.map((value) => -value);
  const motion = {
    rates,
    equilibrium: new Float64Array(n * nU),
    drift: new Float64Array(n * nU),
    driveSlope: untold === undefined ? projectInput : new Float64Array(n * nU),
  };
  if (known !== undefined) {
    const rest = new Rest(still, opened, tree, false, memory).of(opened);
    const pushed = zeros(n, nU);
    const constant = multiply(vectorsT, solveLower(lower, force));
    const carried = zeros(m, nU);
    loop.currents.forEach((row, l) => {
      for (let j = 0; j < nU; j++) {
        let current = row[n + j]!;
        for (let i = 0; i < n; i++) current += row[i]! * rest.data[i * nU + j]!;
        carried.data[l * nU + j] = current;
      }
    });
    pushed.data.set(multiply(fed.value, carried).data);
    for (let k = 0; k < n; k++) pushed.data[k * nU + nU - 1]! += constant.data[k]!;
    const push = multiply(known.inverse, pushed).data;
    const ownRest = modalRest(rest, multiply(vectorsT, upper), ownState, restMemory(n, nU, memory));
    const settled = multiply(known.inverse, ownRest).data;
    for (let k = 0; k < n; k++) {
      for (let at = k * nU; at < (k + 1) * nU; at++) {
        if (rates[k] === 0) motion.drift[at] = -push[at]!;
        else motion.equilibrium[at] = settled[at]! - push[at]! / rates[k]!;
      }
    }
  }
  const rows = new Map<number, Float64Array>();
  ports.forEach(({ control, driven }, l) => {
    const current = loop.currents[l]!;
    rows.set(control, current);
    for (const { branch, gain } of driven) {
      rows.set(
        branch,
        current.map((value) => gain * value),
      );
    }
  });
  const readouts = new ModeReadouts(network, form, loop.offsets, motion, toState, laws, { rows, reach });
  const { nodes, branchCurrents, capacitorCurrents, capacitorVoltages } = readouts;
  return {
    stateCount: n,
    ...motion,
    project: multiply(toModal, charge).data,
    projectInput,
    capacitorCount: tree.capacitors.length,
    held: tree.held,
    ...{ nodes, branchCurrents, capacitorCurrents, capacitorVoltages },
    ...(untold === undefined ? {} : { untold }),
  };
}

/** A product of matrices, in which what cancels to rounding is zero, and the size of what each entry is the sum of. */
function summed(a: Matrix, b: Matrix): Summed {
  const value = multiply(a, b);
  const size = multiply({ ...a, data: a.data.map(Math.abs) }, { ...b, data: b.data.map(Math.abs) });
  size.data.forEach((most, at) => {
    if (Math.abs(value.data[at]!) <= 8 * Number.EPSILON * most) value.data[at] = 0;
  });
  return { value, size };
}

/** The ways to and from the modal state, and how large its parts can be per volt; undefined where they cancel too much. */
function withReach(
  { basis, inverse, rates }: Exclude<ReturnType<typeof feedbackSpectrum>, string>,
  ownState: Matrix,
  vectorsT: Matrix,
  upper: Matrix,
): { toState: Matrix; toModal: Matrix; inverse: Matrix; reach: Float64Array; rates: Float64Array } | undefined {
  const n = rates.length;
  const toState = multiply(ownState, basis);
  const toModal = multiply(inverse, vectorsT);
  const fromVolts = multiply(toModal, upper);
  const reach = new Float64Array(n);
  for (let k = 0; k < n; k++) {
    for (let i = 0; i < n; i++) reach[k]! += Math.abs(fromVolts.data[k * n + i]!);
  }
  for (let i = 0; i < n; i++) {
    let sum = 0;
    for (let k = 0; k < n; k++) sum += Math.abs(toState.data[i * n + k]!) * reach[k]!;
    if (!(sum <= MOST_CANCELLED)) return undefined;
  }
  return { toState, toModal, inverse, reach, rates };
}
