import type { CaptureColumn } from '@two-thirds/sim/document';
import { isRecord, type Json, type JsonRecord } from '../edit/json.ts';

/** Which column a quantity was measured in, and its unit. */
export interface ColumnChoice {
  /** Counted from 1; undefined where it was not measured, or is not known. */
  readonly position: number | undefined;
  /** As it stands in the document; empty where the file is to say it. */
  readonly unit: string;
}

/** Which columns a capture uses. */
export interface ColumnChoices {
  readonly time: ColumnChoice;
  readonly nets: ReadonlyMap<string, ColumnChoice>;
}

const none: ColumnChoice = { position: undefined, unit: '' };

/**
 * Which columns a capture cell uses: those it names, else those that the titles of the file tell.
 *
 * @param columns the cell's field.
 * @param nets of the board.
 */
export function chosenColumns(
  head: readonly CaptureColumn[],
  columns: Json | undefined,
  nets: readonly string[],
): ColumnChoices {
  const named = isRecord(columns) ? columns : {};
  const { time, ...others } = named;
  const own = Object.keys(others).length > 0;
  return {
    time: time === undefined ? timeColumn(head) : choiceOf(head, time),
    nets: new Map(
      [...new Set([...nets, ...Object.keys(others)])].map((net) => {
        const wish = others[net];
        if (wish !== undefined) return [net, choiceOf(head, wish)];
        const titled = own ? undefined : head.find(({ name }) => name === net);
        return [net, { position: titled?.position, unit: '' }];
      }),
    ),
  };
}

/** The field of a capture cell once a quantity is said to stand in another column, or to have another unit. */
export function withColumn(
  head: readonly CaptureColumn[],
  before: ColumnChoices,
  what: string,
  choice: ColumnChoice,
): JsonRecord {
  const all = new Map([['time', before.time], ...before.nets]).set(what, choice);
  return Object.fromEntries(
    [...all].flatMap(([name, { position, unit }]): [string, Json][] => {
      if (position === undefined) return [];
      const column = columnName(head, position);
      return [[name, unit === '' ? column : { column, unit }]];
    }),
  );
}

/** Whether the unit of a choice has to be said, because neither the document nor the file says it. */
export function lacksUnit(head: readonly CaptureColumn[], { position, unit }: ColumnChoice): boolean {
  if (position === undefined || unit !== '') return false;
  return head[position - 1]?.unit === null;
}

/** As the library finds it: the column called time or t, else the first that says it is a time. */
function timeColumn(head: readonly CaptureColumn[]): ColumnChoice {
  const named = head.find(({ name }) => /^(?:time|t)$/i.test(name)) ?? head.find(({ unit }) => unit === 's');
  return { position: named?.position, unit: '' };
}

function choiceOf(head: readonly CaptureColumn[], wish: Json): ColumnChoice {
  if (isRecord(wish)) {
    const unit = typeof wish['unit'] === 'string' ? wish['unit'] : '';
    return { position: positionOf(head, wish['column']), unit };
  }
  return { ...none, position: positionOf(head, wish) };
}

function positionOf(head: readonly CaptureColumn[], column: Json | undefined): number | undefined {
  if (typeof column === 'number') return column;
  if (typeof column !== 'string') return undefined;
  const wanted = column.trim();
  const found =
    head.find(({ title }) => title === wanted) ?? head.find(({ name }) => name.toLowerCase() === wanted.toLowerCase());
  return found?.position;
}

/** A column as the document names it: by its title where no other has the same, else by its position. */
function columnName(head: readonly CaptureColumn[], position: number): Json {
  const title = head[position - 1]?.title ?? '';
  return title !== '' && head.filter((each) => each.title === title).length === 1 ? title : position;
}
