import { checkCircuit } from '../circuit/check-circuit.ts';
import type { CircuitData } from '../circuit/description.ts';
import { standardKinds } from '../device/standard-kinds.ts';
import { highLevel, timersOf } from '../run/simulate.ts';
import type { NamedValues, Subject } from '../study/subject.ts';

/**
 * The subject of studies of a circuit that a program builds: `build` gives the circuit as plain data for certain values,
 * which is then checked. What is wrong with it is the reason why there is no run.
 */
export function circuitSubject(build: (values: NamedValues) => CircuitData): Subject {
  return (values) => {
    const { circuit, issues } = checkCircuit(build(values), standardKinds);
    if (circuit !== undefined) {
      return { ok: true, context: { circuit, timers: timersOf(circuit), highLevel: highLevel(circuit) } };
    }
    const reason = issues.find(({ severity }) => severity === 'fault')?.message;
    return { ok: false, reason: reason ?? 'the circuit is refused' };
  };
}
