import { readQuantity, typedQuantity, type Unit } from '@two-thirds/sim/quantity';
import type { Edit } from './history.ts';
import { isList, isRecord, type Json, type JsonRecord } from './json.ts';
import { pageOf } from './page.ts';
import { valueAt, withValue } from './path.ts';
import { partValue, withPartValue } from './place-value.ts';

/** A field of a wave of some shape. */
export interface WaveField {
  readonly name: string;
  /** What stands in it while it is left out; without one it must be given. */
  readonly usual?: string;
  /** The words that it may be, where it is one of a few. */
  readonly words?: readonly string[];
}

/** The shapes that waves have, with what each has beside its shape; lists of points stand in rows of their own. */
const shapes: ReadonlyMap<string, readonly WaveField[]> = new Map<string, readonly WaveField[]>([
  ['constant', [{ name: 'level' }]],
  [
    'pulses',
    [
      { name: 'period' },
      { name: 'width' },
      { name: 'rest' },
      { name: 'pulse' },
      { name: 'delay', usual: '0 s' },
      { name: 'count', usual: 'endless' },
    ],
  ],
  [
    'square',
    [
      { name: 'frequency' },
      { name: 'duty', usual: '50 %' },
      { name: 'high' },
      { name: 'low' },
      { name: 'delay', usual: '0 s' },
    ],
  ],
  ['sine', [{ name: 'frequency' }, { name: 'amplitude' }, { name: 'offset' }, { name: 'phase', usual: '0 rad' }]],
  ['points', [{ name: 'between', words: ['lines', 'steps'] }]],
]);

/** The shapes that a wave may have. */
export const WAVE_SHAPES: readonly string[] = [...shapes.keys()];

/** The fields of a wave beside its shape; none where the shape is not known. */
export function waveFields(wave: JsonRecord): readonly WaveField[] {
  const { shape } = wave;
  return typeof shape === 'string' ? (shapes.get(shape) ?? []) : [];
}

/**
 * Gives the wave of a signal another shape. What the shapes share goes along: levels, how often, how long, from when on.
 * Undefined where the part has no such wave, or the shape already.
 */
export function changeShape(document: Json, board: string, part: string, shape: string): Edit | undefined {
  const wave = partValue(document, board, part, ['wave']);
  if (!isRecord(wave) || wave['shape'] === shape || !shapes.has(shape)) return undefined;
  const next = reshaped(wave, shape);
  const after = withPartValue(document, board, part, ['wave'], next);
  if (after === undefined) return undefined;
  return { path: [], value: withTurningKnobs(after, board, part, next), label: `wave of ${part} to ${shape}` };
}

/** Knobs of a wave turn what it has now: those of how often go over to period or frequency, the others that turn nothing go. */
function withTurningKnobs(document: Json, board: string, part: string, wave: JsonRecord): Json {
  const often = wave['period'] === undefined ? 'frequency' : 'period';
  const follow = (knob: Json): readonly Json[] => {
    const start = `${part}.wave.`;
    if (typeof knob !== 'string' || !knob.startsWith(start)) return [knob];
    const field = knob.slice(start.length);
    const now = field === 'period' || field === 'frequency' ? often : field;
    return waveFields(wave).some(({ name }) => name === now) || wave[now] !== undefined ? [start + now] : [];
  };
  let value = document;
  for (const [index, cell] of pageOf(document).entries()) {
    const knobs = isRecord(cell) && cell['board'] === board ? cell['knobs'] : undefined;
    if (isList(knobs)) value = withValue(value, ['page', index, 'knobs'], knobs.flatMap(follow));
  }
  return value;
}

/** What waves of all shapes have in common, in SI units. */
interface Course {
  /** The level it keeps most, or comes back to, and the other one. */
  readonly rest: number;
  readonly other: number;
  readonly period: number;
  /** How much of a period it spends at the other level. */
  readonly share: number;
  readonly delay: number;
}

function reshaped(wave: JsonRecord, shape: string): JsonRecord {
  const { rest, other, period, share, delay } = courseOf(wave);
  const [low, high] = [Math.min(rest, other), Math.max(rest, other)];
  const later = delay === 0 ? {} : { delay: text(delay, 's') };
  switch (shape) {
    case 'constant':
      return { shape, level: text(rest, 'V') };
    case 'pulses':
      return {
        shape,
        period: text(period, 's'),
        width: text(period * share, 's'),
        rest: text(rest, 'V'),
        pulse: text(other, 'V'),
        ...later,
      };
    case 'square': {
      const duty = other > rest ? share : 1 - share;
      return {
        shape,
        frequency: text(1 / period, 'Hz'),
        ...(duty === 0.5 ? {} : { duty: text(duty, 'share') }),
        high: text(high, 'V'),
        low: text(low, 'V'),
        ...later,
      };
    }
    case 'sine':
      return {
        shape,
        frequency: text(1 / period, 'Hz'),
        amplitude: text((high - low) / 2, 'V'),
        offset: text((high + low) / 2, 'V'),
      };
    default: {
      const begins = delay === 0 ? period : delay;
      return {
        shape,
        points: [
          ['0 s', text(rest, 'V')],
          [text(begins, 's'), text(other, 'V')],
          [text(begins + period * share, 's'), text(rest, 'V')],
        ],
        between: 'steps',
      };
    }
  }
}

/** What is to begin with where a wave does not tell: a short pulse a second, at a level that all timers take. */
const USUAL: Course = { rest: 0, other: 5, period: 1, share: 0.1, delay: 0 };

function courseOf(wave: JsonRecord): Course {
  const read = (field: string, unit: Unit): number | undefined => quantity(wave[field], unit);
  const delay = read('delay', 's') ?? 0;
  const frequency = read('frequency', 'Hz');
  const period = read('period', 's') ?? (frequency === undefined || frequency <= 0 ? USUAL.period : 1 / frequency);
  switch (wave['shape']) {
    case 'constant': {
      const rest = read('level', 'V') ?? USUAL.rest;
      return { ...USUAL, rest, other: rest === 0 ? USUAL.other : 0 };
    }
    case 'pulses': {
      const width = read('width', 's') ?? period * USUAL.share;
      const share = period > 0 ? Math.min(1, width / period) : USUAL.share;
      return { rest: read('rest', 'V') ?? USUAL.rest, other: read('pulse', 'V') ?? USUAL.other, period, share, delay };
    }
    case 'square':
      return {
        rest: read('low', 'V') ?? USUAL.rest,
        other: read('high', 'V') ?? USUAL.other,
        period,
        share: read('duty', 'share') ?? 0.5,
        delay,
      };
    case 'sine': {
      const [offset, amplitude] = [read('offset', 'V') ?? USUAL.rest, read('amplitude', 'V') ?? USUAL.other];
      return { rest: offset - amplitude, other: offset + amplitude, period, share: 0.5, delay: 0 };
    }
    default:
      return pointsCourse(wave['points']);
  }
}

/** Of points only the levels and the time of the first change are told in other shapes. */
function pointsCourse(points: Json | undefined): Course {
  const read = (isList(points) ? points : []).map((point) => ({
    time: quantity(valueAt(point, [0]), 's'),
    level: quantity(valueAt(point, [1]), 'V'),
  }));
  const rest = read[0]?.level ?? USUAL.rest;
  const first = read.find(({ level }) => level !== undefined && level !== rest);
  const back = read.find(({ time }) => first?.time !== undefined && time !== undefined && time > first.time);
  const delay = first?.time ?? USUAL.delay;
  const width = first?.time === undefined || back?.time === undefined ? USUAL.share : back.time - first.time;
  const period = Math.max(USUAL.period, 2 * width);
  return { rest, other: first?.level ?? (rest === 0 ? USUAL.other : 0), period, share: width / period, delay };
}

function quantity(raw: Json | undefined, unit: Unit): number | undefined {
  const read = raw === undefined ? undefined : readQuantity(raw, unit);
  return read?.ok === true ? read.value : undefined;
}

function text(value: number, unit: Unit): string {
  return typedQuantity(Number(value.toPrecision(9)), unit);
}
