import type { Part } from '../circuit/description.ts';
import { readPart } from '../circuit/read-part.ts';
import type { Issue } from '../core/errors.ts';
import { foundText } from '../core/found-text.ts';
import { standardKinds } from '../device/standard-kinds.ts';
import { formatQuantity } from '../quantity/index.ts';
import { combinationCount, type SwapPlace } from '../study/swaps.ts';
import type { GoodBoard } from './board-table.ts';
import type { CellPlace } from './cell-names.ts';
import { findValue, valueAlong, withValue } from './knob.ts';
import type { SwapsCell } from './notebook-document.ts';
import { innerUnit } from './part-rows.ts';
import { placeInside } from './place.ts';
import { fault, foundData } from './schema-wording.ts';
import { MOST_COMBINATIONS } from './swaps-schema.ts';

/** In place of a value of a probe: it is not attached. */
export const NOT_ATTACHED = 'none';

/** A place of a kit, as the study and its subject know it. */
export interface ReadPlace extends SwapPlace {
  /** The part as the board calls it, and the steps to the value in it. */
  readonly part: string;
  readonly steps: readonly string[];
  /** What is plugged in, as it stands in a parts list; {@link NOT_ATTACHED} takes a probe away. */
  readonly data: readonly unknown[];
}

/** Reads the places of a swaps cell, or says what is wrong with them. */
export function readPlaces(
  { parts }: Pick<SwapsCell, 'parts'>,
  board: GoodBoard,
  at: CellPlace,
): { readonly places: readonly ReadPlace[]; readonly issues: readonly Issue[] } {
  const places: ReadPlace[] = [];
  const issues: Issue[] = [];
  for (const [name, data] of Object.entries(parts)) {
    const field = placeInside('parts', name);
    const refused = (code: string, step: string, message: string): Issue => ({
      code,
      severity: 'fault',
      where: `${at.place}.${step}`,
      field: step,
      message: `${at.label}: ${step} ${message}`,
    });
    const found = findValue(name, board.parts, standardKinds);
    if (!found.ok) {
      issues.push(refused('unknown-value', field, found.message));
      continue;
    }
    const { part, steps } = found.path;
    const twice = places.find((place) => place.part === part && place.steps.join() === steps.join());
    if (twice !== undefined) {
      const message = `must be named once; got ${foundText(name)} beside ${foundText(twice.name)}. Remove one of the two.`;
      issues.push(refused('double-value', field, message));
      continue;
    }
    const written = board.parts.find((each) => (each as Part).name === part);
    const texts: string[] = [];
    for (const [index, each] of data.entries()) {
      const step = `${field}[${index}]`;
      const isProbe = board.circuit.parts.some((one) => one.name === board.prefix + part && one.kind === 'probe');
      if (isProbe && each === NOT_ATTACHED) texts.push(NOT_ATTACHED);
      else {
        const read = readPart(withValue(written, steps, each), standardKinds, { place: '', index: 0 });
        if (read.part === undefined) {
          const why = read.issues.find(({ severity }) => severity === 'fault')?.message ?? '';
          const rule = `be something that ${part} can be${isProbe ? `, or "${NOT_ATTACHED}"` : ''}`;
          issues.push(refused('bad-value', step, `must ${rule}; got ${foundData(each)}. ${why}`));
        } else texts.push(textOf(read.part, steps));
      }
    }
    const again = texts.find((text, index) => texts.indexOf(text) !== index);
    if (again !== undefined && texts.length === data.length) {
      const rule = 'hold nothing twice';
      const advice = 'Remove one of the two.';
      const wording = { label: at.label, field, rule, got: `${again} twice`, advice };
      issues.push(fault('double-value', `${at.place}.${field}`, wording));
    }
    const harmless = steps[0] === 'capacitance';
    places.push({ name, choices: texts, harmless, part, steps, data });
  }
  const count = combinationCount(places);
  if (issues.length === 0 && count > MOST_COMBINATIONS) {
    const rule = `make at most ${MOST_COMBINATIONS} combinations`;
    const product = places.map(({ choices }) => choices.length).join(' x ');
    const got = `${product} = ${count > Number.MAX_SAFE_INTEGER ? `about ${count.toExponential(1)}` : count}`;
    const advice = 'Leave parts or values out, or divide them among several cells.';
    issues.push(fault('too-many', `${at.place}.parts`, { label: at.label, field: 'parts', rule, got, advice }));
  }
  return { places, issues };
}

/** What a part has been given, as people read it. */
function textOf(part: Part, steps: readonly string[]): string {
  const value = valueAlong(part.values, steps);
  const unit =
    steps.length > 1
      ? innerUnit(steps)
      : standardKinds.get(part.kind)?.fields.find(({ name }) => name === steps[0])?.unit;
  if (typeof value === 'number') {
    if (value === Infinity) return 'none';
    return unit === undefined ? String(value) : formatQuantity(value, unit, { exact: true });
  }
  return typeof value === 'string' ? value : (JSON.stringify(value) ?? 'none');
}
