import type { Circuit, Part } from '../circuit/description.ts';
import { sameData } from '../core/same-data.ts';
import type { Device } from '../device/contract.ts';
import { deviceOf, type Lengths, type Program, ProgramBuilder } from './program.ts';

/** The program made last: where the elements of each part begin in its lists, and in the end how long they are. */
interface Made {
  readonly nets: readonly string[];
  readonly parts: readonly Part[];
  readonly marks: readonly Lengths[];
  readonly program: Program;
}

/**
 * Builds the programs of one circuit after the other. A study changes a few parts from circuit to circuit; of all others it
 * takes over what they were made of the last time, the very objects, so that whoever compares programs sees at a glance
 * what is the same. What a part is made of depends on the part and on its nodes and numbers alone (see `Device`), and its
 * nodes are nets of the circuit or its own, so that their numbers follow from how many there are before it.
 */
export class ProgramSeries {
  private last: Made | undefined;

  /** @param faults whether the limits of the parts are watched. */
  constructor(
    private readonly devices: ReadonlyMap<string, Device>,
    private readonly faults: boolean,
  ) {}

  /** The program of a checked circuit, as `buildProgram` makes it. */
  build({ nets, parts }: Circuit): Program {
    const { last, devices } = this;
    const builder = new ProgramBuilder(nets, this.faults);
    const marks: Lengths[] = [];
    let follows = last !== undefined && sameData(nets, last.nets);
    for (let index = 0; index < parts.length; index++) {
      const part = parts[index]!;
      const start = builder.lengths;
      marks.push(start);
      follows &&= last!.marks.length > index + 1 && sameLengths(start, last!.marks[index]!);
      if (follows && part === last!.parts[index]) {
        builder.takeOver(last!.program, start, last!.marks[index + 1]!);
        continue;
      }
      deviceOf(part, devices).build(part, builder);
    }
    marks.push(builder.lengths);
    const program = builder.program(last?.program);
    this.last = { nets, parts, marks, program };
    return program;
  }
}

function sameLengths(one: Lengths, other: Lengths): boolean {
  return (
    one.nodes === other.nodes &&
    one.branches === other.branches &&
    one.capacitors === other.capacitors &&
    one.inputs === other.inputs &&
    one.reactors === other.reactors &&
    one.currents === other.currents
  );
}
