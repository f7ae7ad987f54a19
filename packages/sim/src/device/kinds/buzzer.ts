import type { PartKind } from '../../circuit/description.ts';
import { quantity } from '../../field/value-readers.ts';
import { formatQuantity } from '../../quantity/index.ts';
import { polesPlusAndMinus } from './terminals.ts';

/**
 * A buzzer with a driver of its own, which sounds on a direct voltage; for the circuit it is a resistance. It sounds from
 * `least` on, the right way round; `most` and a voltage the wrong way round are limits that runs watch.
 */
export const buzzer: PartKind = {
  kind: 'buzzer',
  title: 'buzzer',
  terminals: polesPlusAndMinus,
  fields: [
    {
      name: 'resistance',
      title: 'resistance: rated voltage by the current at it',
      unit: 'Ω',
      required: true,
      read: quantity('Ω', { above: 0 }),
    },
    {
      name: 'least',
      title: 'voltage from which it sounds',
      unit: 'V',
      required: true,
      read: quantity('V', { above: 0 }),
    },
    {
      name: 'most',
      title: 'greatest voltage that it bears',
      unit: 'V',
      required: true,
      read: quantity('V', { above: 0 }),
    },
    {
      name: 'frequency',
      title: 'frequency of its tone',
      unit: 'Hz',
      default: 2300,
      source: 'a common 12 mm magnetic buzzer: data sheet FMB12A12, 2.3 kHz ± 0.3 kHz',
      read: quantity('Hz', { above: 0 }),
    },
  ],
  paths: () => [['plus', 'minus']],
  sources: () => [],
  derive(values) {
    const { least, most } = values as { least: number; most: number };
    if (least < most) return { ok: true, values: {} };
    return {
      ok: false,
      field: 'most',
      message: `must be more than least; got ${volts(most)}, while least is ${volts(least)}. Data sheets state both as the operating voltage, such as 8 V to 16 V.`,
    };
  },
};

function volts(value: number): string {
  return formatQuantity(value, 'V', { exact: true });
}
