import { foundText } from '../core/found-text.ts';
import { type FieldFault, type FieldReader, type FieldResult, fault } from '../field/field-reader.ts';
import { gather, isObject, type Member, ownEntry, readRecord } from '../field/record.ts';
import { choice, quantity } from '../field/value-readers.ts';
import { formatQuantity } from '../quantity/index.ts';
import { readPoints } from './read-points.ts';
import type { Wave } from './wave.ts';

const EXAMPLE = '{ "shape": "constant", "level": "5 V" }';

/** What each shape has beside `shape`, with the defaults. */
const shapes: ReadonlyMap<string, readonly Member[]> = new Map([
  ['constant', [{ name: 'level', read: quantity('V') }]],
  [
    'pulses',
    [
      { name: 'period', read: quantity('s', { above: 0 }) },
      { name: 'width', read: quantity('s', { above: 0 }) },
      { name: 'rest', read: quantity('V') },
      { name: 'pulse', read: quantity('V') },
      { name: 'delay', read: quantity('s', { atLeast: 0 }), default: 0 },
      { name: 'count', read: readCount, default: Number.POSITIVE_INFINITY },
    ],
  ],
  [
    'square',
    [
      { name: 'frequency', read: quantity('Hz', { above: 0 }) },
      { name: 'duty', read: quantity('share', { above: 0, below: 1 }), default: 0.5 },
      { name: 'high', read: quantity('V') },
      { name: 'low', read: quantity('V') },
      { name: 'delay', read: quantity('s', { atLeast: 0 }), default: 0 },
    ],
  ],
  [
    'sine',
    [
      { name: 'frequency', read: quantity('Hz', { above: 0 }) },
      { name: 'amplitude', read: quantity('V', { atLeast: 0 }) },
      { name: 'offset', read: quantity('V') },
      { name: 'phase', read: quantity('rad'), default: 0 },
    ],
  ],
  [
    'points',
    [
      { name: 'points', read: readPoints },
      { name: 'between', read: choice(['lines', 'steps']) },
    ],
  ],
]);

const readShape = choice([...shapes.keys()]);

/**
 * Reads a wave as it stands in a file into a {@link Wave}: voltages, one of the shapes `constant`, `pulses`, `square`,
 * `sine`, `points`. All faults are found at once; unknown fields are refused by name. Never throws.
 */
export const readWave: FieldReader = (input) => {
  if (!isObject(input)) {
    return fault(`must be an object with a shape; got ${foundText(input)}. Write for example ${EXAMPLE}.`);
  }
  const shape = readShape(ownEntry(input, 'shape'));
  if (!shape.ok) return { ...shape, path: '.shape' };
  const members = shapes.get(shape.value as string) ?? [];
  const read = readRecord(input, [{ name: 'shape', read: readShape }, ...members], exampleOf(shape.value));
  if (!read.ok) return read;
  // Every member of the shape has been read by the table above, so the object is the wave of that shape.
  const wave = read.value as unknown as Wave;
  return gather(faultsBetween(wave)) ?? { ok: true, value: wave };
};

/** Rules between the fields of one wave. */
function faultsBetween(wave: Wave): FieldFault[] {
  if (wave.shape !== 'pulses' || wave.width <= wave.period) return [];
  const width = formatQuantity(wave.width, 's', { exact: true });
  const period = formatQuantity(wave.period, 's', { exact: true });
  return [
    fault(`must be at most the period of ${period}; got ${width}. Make it shorter, or the period longer.`, '.width'),
  ];
}

/** Reads a number of pulses, `Infinity` for the word `endless`. */
function readCount(input: unknown): FieldResult {
  if (input === 'endless' || input === Number.POSITIVE_INFINITY) return { ok: true, value: Number.POSITIVE_INFINITY };
  if (typeof input === 'number' && Number.isSafeInteger(input) && input >= 0) return { ok: true, value: input };
  return fault(
    `must be a whole number of pulses, at least 0; got ${foundText(input)}. Write for example 3 or "endless".`,
  );
}

function exampleOf(shape: unknown): string {
  switch (shape) {
    case 'pulses':
      return '{ "shape": "pulses", "period": "150 ms", "width": "8 ms", "rest": "12 V", "pulse": "0 V" }';
    case 'square':
      return '{ "shape": "square", "frequency": "2 Hz", "high": "6 V", "low": "0 V" }';
    case 'sine':
      return '{ "shape": "sine", "frequency": "50 Hz", "amplitude": "2 V", "offset": "3 V" }';
    case 'points':
      return '{ "shape": "points", "points": [[0, 0], ["2 s", "6 V"]], "between": "lines" }';
    default:
      return EXAMPLE;
  }
}
