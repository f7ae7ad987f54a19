import type { Circuit, Part } from '../circuit/description.ts';
import type { TimerParameters } from '../device/families.ts';
import type { TimerFacts } from '../measure/context.ts';

/** The timers of a circuit in the order of its parts. */
export function timersOf(circuit: Circuit): TimerFacts[] {
  return circuit.parts.filter((part) => part.kind === 'timer').map(factsOf);
}

function factsOf(part: Part): TimerFacts {
  const { nets, name } = part;
  const parameters = part.values['parameters'] as TimerParameters;
  return {
    name,
    trigger: nets['trigger']!,
    threshold: nets['threshold']!,
    output: nets['output']!,
    control: nets['control'] ?? `${name}.control`,
    lower: `${name}.lower`,
    supply: nets['supply']!,
    ground: nets['ground']!,
    ...(nets['reset'] === undefined ? {} : { reset: nets['reset'] }),
    ...(nets['discharge'] === undefined ? {} : { discharge: nets['discharge'] }),
    start: part.values['start'] === 'set' ? 'set' : 'cleared',
    delay: parameters.delay,
    minimumTrigger: parameters.minimumTrigger,
    resetLevel: parameters.resetLevel,
  };
}

/**
 * The level (V) above which a net counts as high: half of the voltage of the supply that feeds the first timer, else of
 * the highest supply; 0 V without a supply. The voltage of a supply is its initial one, or, where it comes up from 0 V, the
 * highest that it reaches.
 */
export function highLevel(circuit: Circuit): number {
  const supplies = circuit.parts.filter((part) => part.kind === 'supply');
  const first = timersOf(circuit)[0];
  const feeding = supplies.find((part) => part.nets['plus'] === first?.supply);
  if (feeding) return voltageOf(feeding) / 2;
  return Math.max(0, ...supplies.map(voltageOf)) / 2;
}

function voltageOf({ values }: Part): number {
  const { voltage, changes = [] } = values as { voltage: number; changes?: readonly { readonly voltage: number }[] };
  if (voltage !== 0) return voltage;
  return changes.reduce((most, change) => Math.max(most, change.voltage), 0);
}
