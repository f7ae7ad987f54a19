import { type FieldFault, type FieldResult, fault } from '../field/field-reader.ts';
import { gather, readList } from '../field/record.ts';
import { quantity } from '../field/value-readers.ts';
import { foundText } from '../core/found-text.ts';
import { formatQuantity } from '../quantity/index.ts';

/** A point of a wave: time (s) and voltage (V). */
type Point = readonly [time: number, value: number];

/** Longest list of points. */
const MOST_POINTS = 100_000;
/** A list in the wrong order is wrong all along; a few places show it. */
const FAULTS_SHOWN = 20;
const EXAMPLE = '[[0, 0], ["2 s", "6 V"]]';

const readTime = quantity('s');
const readValue = quantity('V');

/**
 * Reads the points of a wave: pairs of a time and a voltage. Times ascend; two equal times make a jump, three would leave
 * the middle one without meaning.
 */
export function readPoints(input: unknown): FieldResult {
  const list = readList(input, readPoint, MOST_POINTS, EXAMPLE);
  if (!list.ok) return list;
  const points = list.value as readonly Point[];
  if (points.length === 0)
    return fault(`must have at least one point; got an empty list. Write for example ${EXAMPLE}.`);
  return gather(orderFaults(points)) ?? { ok: true, value: points };
}

function readPoint(input: unknown): FieldResult {
  if (!Array.isArray(input)) {
    return fault(`must be a time and a voltage; got ${foundText(input)}. Write for example ["2 s", "6 V"].`);
  }
  if (input.length !== 2) {
    return fault(`must be a time and a voltage; got a list of ${input.length}. Write for example ["2 s", "6 V"].`);
  }
  const time = readTime(input[0]);
  const value = readValue(input[1]);
  const faults: FieldFault[] = [];
  if (!time.ok) faults.push({ ...time, path: '[0]' });
  if (!value.ok) faults.push({ ...value, path: '[1]' });
  return gather(faults) ?? { ok: true, value: time.ok && value.ok ? [time.value, value.value] : [] };
}

function orderFaults(points: readonly Point[]): FieldFault[] {
  const faults: FieldFault[] = [];
  for (let index = 1; index < points.length && faults.length < FAULTS_SHOWN; index += 1) {
    const time = timeAt(points, index);
    const before = timeAt(points, index - 1);
    if (time < before) {
      const got = formatQuantity(time, 's', { exact: true });
      const earlier = formatQuantity(before, 's', { exact: true });
      faults.push(
        fault(
          `must not be before the point ahead of it, at ${earlier}; got ${got}. Put the points in order of time.`,
          `[${index}][0]`,
        ),
      );
    } else if (index >= 2 && time === before && time === timeAt(points, index - 2)) {
      const got = formatQuantity(time, 's', { exact: true });
      faults.push(
        fault(
          `must be the time of at most two points; got ${got} a third time. Two points make a jump; take the others out.`,
          `[${index}][0]`,
        ),
      );
    }
  }
  return faults;
}

function timeAt(points: readonly Point[], index: number): number {
  return points[index]?.[0] ?? Number.NaN;
}
