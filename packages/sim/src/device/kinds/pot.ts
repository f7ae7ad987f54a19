import type { Part, PartKind } from '../../circuit/description.ts';
import { anyResistance, quantity } from '../../field/value-readers.ts';

/** A potentiometer: two resistors that share the resistance by the position of the wiper. */
export const pot: PartKind = {
  kind: 'pot',
  title: 'potentiometer',
  terminals: [
    { name: 'a', required: true },
    { name: 'wiper', required: true },
    { name: 'b', required: true },
  ],
  fields: [
    {
      name: 'resistance',
      title: 'resistance from a to b',
      unit: 'Ω',
      required: true,
      read: anyResistance(),
    },
    {
      name: 'position',
      title: 'position of the wiper, 0 at a and 1 at b',
      unit: 'share',
      default: 0.5,
      source: 'in the middle until stated',
      read: quantity('share', { atLeast: 0, atMost: 1 }),
    },
    {
      name: 'end',
      title: 'resistance left at either end',
      unit: 'Ω',
      default: 0,
      source: 'ideal until stated; about 1 % or 2 Ω is usual, from memory',
      read: anyResistance(),
    },
  ],
  paths: () => [
    ['a', 'wiper'],
    ['wiper', 'b'],
  ],
  sources: () => [],
  joins: (part) => {
    const [nearA, nearB] = potResistances(part);
    return [...(nearA === 0 ? [['a', 'wiper'] as const] : []), ...(nearB === 0 ? [['wiper', 'b'] as const] : [])];
  },
};

/** The resistances (Ω) from `a` to the wiper and from the wiper to `b`; the end resistance counts on both sides. */
function potResistances(part: Part): readonly [nearA: number, nearB: number] {
  const { resistance, position, end } = part.values as { resistance: number; position: number; end: number };
  return [end + position * resistance, end + (1 - position) * resistance];
}
