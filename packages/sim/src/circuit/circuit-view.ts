import { formatQuantity, type Unit } from '../quantity/index.ts';
import type { ConductingLink } from './conducting-links.ts';
import type { Circuit, Part } from './description.ts';
import { HeldNets } from './held-nets.ts';
import { LimitingPaths } from './limiting-path.ts';

/** A circuit with what judging it needs: which nets are held, which currents can flow, and which parts are asked about. */
export class CircuitView {
  readonly circuit: Circuit;
  readonly held: HeldNets;
  readonly paths: LimitingPaths;
  readonly #about: ReadonlySet<string> | undefined;

  /** @param about names of the parts asked about; all of them if not given. */
  constructor(circuit: Circuit, about?: ReadonlySet<string>) {
    this.circuit = circuit;
    this.#about = about;
    this.held = new HeldNets(circuit);
    this.paths = new LimitingPaths(circuit, this.held);
  }

  /** The parts asked about that are of a kind. */
  ofKind(kind: string): Part[] {
    return this.circuit.parts.filter((part) => part.kind === kind && (this.#about?.has(part.name) ?? true));
  }

  /** The most voltage (V) that sources can put across a part, from its first net to its second, if it lets none through. */
  across(part: string, from: string, to: string): number {
    const path = this.paths.through(blocking(part, from, to), 0);
    return path === undefined ? 0 : path.voltage - path.drop;
  }
}

function blocking(part: string, from: string, to: string): ConductingLink {
  return { part, from, to, resistance: 0, drop: 0, most: Infinity, through: 'other' };
}

/** A given value as it was written, as far as a formatted quantity can say it. */
export function exactText(value: number, unit: Unit): string {
  return formatQuantity(value, unit, { exact: true });
}

/** A sum of given values, in as many digits as tell it from its neighbours and no rounding. */
export function summedText(value: number, unit: Unit): string {
  return exactText(Number(value.toPrecision(6)), unit);
}

/** A computed value in three digits, without zeros at its end. */
export function roundedText(value: number, unit: Unit): string {
  return formatQuantity(Number(value.toPrecision(3)), unit, { exact: true });
}
