import { NumberMemory } from '../core/number-memory.ts';
import { controlledMode } from './controlled-mode.ts';
import { type Law, type Network, STRAY_CAPACITANCE } from './element.ts';
import { Form } from './form.ts';
import type { Mode } from './mode.ts';
import { OwnMode } from './own-mode.ts';
import { withoutControl } from './ports.ts';
import { type Still, withoutCapacitors } from './rest.ts';
import { Elimination } from './reduce.ts';
import { largestFirst, type Short, type Tree } from './tree.ts';
import { Trees } from './trees.ts';

/** Compiles the modes of one network. */
export class ModeCompiler {
  private readonly trees: Trees;
  private readonly still: Still;
  private readonly elimination: Elimination;
  /** Of trees that something still has. */
  private readonly forms = new WeakMap<Tree, Form>();
  /** Indices of the capacitors, the largest first, with a stray one last among its equals. */
  private readonly order: readonly number[];
  /** Modes that were worked out for the network as it is, in the memory of former ones. */
  private readonly workedOut: OwnMode[] = [];

  /** @param memory where modes have their rows. */
  constructor(
    private network: Network,
    private readonly memory = new NumberMemory(),
  ) {
    this.trees = new Trees(network, memory);
    this.elimination = new Elimination(network.branches, memory);
    this.still = withoutCapacitors(network, memory, this.elimination);
    this.order = largestFirst([...network.capacitors, { capacitance: STRAY_CAPACITANCE }]);
  }

  /**
   * Takes up the capacitances of a network that is wired alike, so that modes can be renewed. False, with nothing changed,
   * where they come in another order of size: its trees are others then.
   */
  renew(network: Network): boolean {
    if (!sameOrder(this.order, network)) return false;
    this.network = network;
    this.workedOut.length = 0;
    return true;
  }

  /**
   * The mode that the given laws make of the network, or the sources that contradict each other.
   *
   * @param former one of this compiler's own, of a network before; what is left of it is used, and it is gone then.
   */
  compile(laws: readonly Law[], former?: Mode | Short): Mode | Short {
    const { network, still, elimination } = this;
    const { laws: own, ports } = withoutControl(network, laws);
    if (former instanceof OwnMode && ports.length === 0 && former.fits(own)) {
      former.form.renew(network);
      if (former.renew(own, this.workedOut)) this.workedOut.push(former);
      return former;
    }
    const tree = this.trees.of(own);
    if ('shortedParts' in tree) return tree;
    const form = this.formOf(tree);
    return ports.length === 0
      ? new OwnMode(network, still, form, own, elimination)
      : controlledMode(network, still, form, own, ports, elimination);
  }

  private formOf(tree: Tree): Form {
    const known = this.forms.get(tree);
    if (known) {
      known.renew(this.network);
      return known;
    }
    const form = new Form(tree, this.network, this.memory);
    this.forms.set(tree, form);
    return form;
  }
}

/** Whether an order of size is also that of the capacitors of a network. */
function sameOrder(order: readonly number[], { capacitors }: Network): boolean {
  const at = (place: number): number => capacitors[order[place]!]?.capacitance ?? STRAY_CAPACITANCE;
  for (let place = 1; place < order.length; place++) {
    const [larger, smaller] = [at(place - 1), at(place)];
    if (larger < smaller || (larger === smaller && order[place - 1]! > order[place]!)) return false;
  }
  return true;
}
