import { isList, isRecord, type Json, type JsonRecord } from '../edit/json.ts';
import { item, itemText, listOf } from './plan-field.ts';

/** Words that a range may be written with, for those who do not know them by heart. */
export const RANGE_WORDS: readonly string[] = [
  'to',
  'along E6',
  'along E12',
  'along E24',
  'in 20 steps',
  'logarithmic',
];

const RANGE_FIELDS = ['from', 'to', 'steps', 'scale', 'series'];

/**
 * A range as it is edited: `1 kΩ to 10 MΩ along E6`, `5 V to 15 V in 10 steps, logarithmic`, or values divided by
 * commas. What is no range is shown as it stands.
 */
export function rangeText(raw: Json | undefined): string {
  if (isList(raw)) return raw.map(itemText).join(', ');
  if (!isRecord(raw)) return itemText(raw);
  const fields = Object.keys(raw);
  if (fields.length === 1 && isList(raw['values'])) return rangeText(raw['values']);
  if (fields.length === 0) return '';
  if (!fields.every((field) => RANGE_FIELDS.includes(field))) return JSON.stringify(raw);
  const { from, to, steps, scale, series } = raw;
  return [
    `${itemText(from)} to ${itemText(to)}`.trim(),
    series === undefined ? '' : ` along ${itemText(series)}`,
    steps === undefined ? '' : ` in ${itemText(steps)} steps`,
    scale === undefined ? '' : `, ${itemText(scale)}`,
  ].join('');
}

/** What a typed range means: the fields of a range, or a list of values where no two ends are given. */
export function rangeOf(typed: string): JsonRecord | readonly Json[] {
  const rest: Record<string, Json> = {};
  let ends = typed;
  for (let tail = tailOf(ends); tail !== undefined; tail = tailOf(ends)) {
    rest[tail.field] = item(tail.value);
    ends = ends.slice(0, tail.at);
  }
  const between = /^(.*?)\s*\bto\b\s*(.*)$/.exec(ends);
  if (between === null) return listOf(typed);
  const [, from = '', to = ''] = between;
  return {
    ...(from === '' ? {} : { from: item(from) }),
    ...(to === '' ? {} : { to: item(to) }),
    ...rest,
  };
}

const TAILS = [
  ['series', /,?\s+along\s+(\S+)\s*$/],
  ['steps', /,?\s+in\s+(\S+)(?:\s+steps?)?\s*$/],
  ['scale', /,?\s+(linear|logarithmic)\s*$/],
] as const;

function tailOf(text: string): { field: string; value: string; at: number } | undefined {
  for (const [field, form] of TAILS) {
    const found = form.exec(text);
    if (found !== null) return { field, value: found[1] ?? '', at: found.index };
  }
  return undefined;
}
