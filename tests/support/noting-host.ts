import type { BranchDescription, DeviceHost, Guard, Reactor } from '#sim/device/contract.ts';

/** A host that only notes what a device asks for. Nets become nodes 1, 2, 3 and so on, `ground` is 0. */
export class NotingHost implements DeviceHost {
  readonly nets: string[] = ['ground'];
  readonly branches: BranchDescription[] = [];
  readonly reactors: Reactor[] = [];
  /** Reactors that only record faults. */
  readonly watches: Reactor[] = [];

  node(net: string): number {
    const known = this.nets.indexOf(net);
    return known >= 0 ? known : this.nets.push(net) - 1;
  }

  branch(branch: BranchDescription): number {
    return this.branches.push(branch) - 1;
  }

  capacitor(): number {
    return 0;
  }

  input(): number {
    return 0;
  }

  reactor(reactor: Reactor): void {
    this.reactors.push(reactor);
  }

  watch(reactor: Reactor): void {
    this.watches.push(reactor);
  }

  current(): void {}

  /** What is watched: of which pin, how, and with which guards while the part is inside its limits. */
  get limits(): {
    what: string | undefined;
    pin: string | undefined;
    guards: readonly Pick<Guard, 'watch' | 'offset'>[];
  }[] {
    return this.watches.map((reactor) => ({
      what: reactor.watches?.what,
      pin: reactor.watches?.pin,
      guards: reactor.guards(reactor.start).map(({ watch, offset }) => ({ watch, offset })),
    }));
  }
}
