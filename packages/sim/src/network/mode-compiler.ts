import { multiply, solveLower, solveLowerTransposed, transpose, zeros } from '../core/dense.ts';
import { controlledMode } from './controlled-mode.ts';
import type { Law, Network, OwnLaw } from './element.ts';
import { type Form, formOf } from './form.ts';
import type { Mode } from './mode.ts';
import { ModeReadouts } from './mode-readouts.ts';
import { withoutControl } from './ports.ts';
import { eliminateComponents } from './reduce.ts';
import { modalRest, restVoltages, type Still, withoutCapacitors } from './rest.ts';
import { idleVoltages, spectrum } from './spectrum.ts';
import type { Short, Tree } from './tree.ts';
import { Trees } from './trees.ts';

/** Compiles the modes of one network. */
export class ModeCompiler {
  private readonly trees: Trees;
  private readonly still: Still;
  private readonly forms = new Map<Tree, Form>();

  constructor(private readonly network: Network) {
    this.trees = new Trees(network);
    this.still = withoutCapacitors(network);
  }

  /** The mode that the given laws make of the network, or the sources that contradict each other. */
  compile(laws: readonly Law[]): Mode | Short {
    const { network } = this;
    const { laws: own, ports } = withoutControl(network, laws);
    const tree = this.trees.of(own);
    if ('shortedParts' in tree) return tree;
    const form = this.formOf(tree);
    return ports.length === 0 ? this.own(own, form) : controlledMode(network, this.still, form, own, ports);
  }

  /** The mode of laws that ask nothing of other branches. */
  private own(laws: readonly OwnLaw[], form: Form): Mode {
    const { network } = this;
    const { tree } = form;
    const { lower, upper, coupled, charge } = form;
    const n = tree.states.length;
    const nU = tree.width - n;
    const reduced = eliminateComponents(network, laws, tree);
    const { vectors, rates } = spectrum(lower, reduced.conductors, idleVoltages(network, laws, tree));
    const toState = solveLowerTransposed(lower, vectors);
    const vectorsT = transpose(vectors);
    const force = zeros(n, 1);
    for (let i = 0; i < n; i++) force.data[i] = reduced.force[i]!;
    const modalForce = multiply(vectorsT, solveLower(lower, force));
    const idle = rates[0] === 0;
    const rest = restVoltages(this.still, laws, tree, !idle);
    const equilibrium = modalRest(rest, multiply(vectorsT, upper), toState);
    const drift = new Float64Array(n * nU);
    for (let k = 0; k < n; k++) {
      const row = k * nU;
      if (rates[k] === 0) {
        equilibrium.fill(0, row, row + nU);
        drift[row + nU - 1] = -modalForce.data[k]!;
      } else if (idle) equilibrium[row + nU - 1]! -= modalForce.data[k]! / rates[k]!;
    }
    // Charge goes to [states] against what the inputs already hold: x = M^-1 B^T C (v - b u), and so it moves with them.
    const projectInput = multiply(vectorsT, coupled).data.map((value) => -value);
    const motion = { rates, equilibrium, drift, driveSlope: projectInput };
    const readouts = new ModeReadouts(network, laws, form, reduced, motion, toState);
    const { nodes, branchCurrents, capacitorCurrents, capacitorVoltages } = readouts;
    return {
      stateCount: n,
      ...motion,
      project: multiply(vectorsT, charge).data,
      projectInput,
      capacitorCount: tree.capacitors.length,
      held: tree.held,
      ...{ nodes, branchCurrents, capacitorCurrents, capacitorVoltages },
    };
  }

  private formOf(tree: Tree): Form {
    const form = this.forms.get(tree) ?? formOf(tree);
    this.forms.set(tree, form);
    return form;
  }
}
