import type { GoodBoard } from './board-table.ts';
import { faultyCircuit } from './faulty-circuit.ts';
import type { FaultyPart, SingleFault } from './faulty-part.ts';
import { currentSourceFaults, signalFaults, supplyFaults } from './faults-of-sources.ts';
import { potFaults, transistorFaults } from './faults-of-three-ends.ts';
import { timerFaults } from './faults-of-timers.ts';
import {
  capacitorFaults,
  contactFaults,
  diodeFaults,
  jumperFaults,
  resistorFaults,
  speakerFaults,
} from './faults-of-two-ends.ts';
import { buzzerFaults, windingFaults } from './faults-of-windings.ts';

/** What can be amiss at a part, by its kind; other kinds are never at fault. */
const faultsByKind: ReadonlyMap<string, (of: FaultyPart) => SingleFault[]> = new Map([
  ['resistor', resistorFaults],
  ['pot', potFaults],
  ['capacitor', capacitorFaults],
  ['diode', diodeFaults],
  ['led', diodeFaults],
  ['speaker', speakerFaults],
  ['buzzer', buzzerFaults],
  ['relay', windingFaults],
  ['solenoid', windingFaults],
  ['button', contactFaults],
  ['switch', contactFaults],
  ['jumper', jumperFaults],
  ['transistor', transistorFaults],
  ['timer', timerFaults],
  ['supply', supplyFaults],
  ['signal', signalFaults],
  ['source', currentSourceFaults],
]);

/** Every single fault of the board's own parts, in the order of its parts list. */
export function singleFaults(board: GoodBoard): SingleFault[] {
  const { circuit, prefix } = board;
  return circuit.parts
    .filter(({ name }) => name.startsWith(prefix))
    .flatMap((part) => {
      const of = { part, circuit, prefix, name: part.name.slice(prefix.length) };
      return faultsByKind.get(part.kind)?.(of) ?? [];
    })
    .filter(({ change }) => faultyCircuit(board, change) !== undefined);
}
