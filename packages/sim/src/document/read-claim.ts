import { type Issue, IssueError } from '../core/errors.ts';
import {
  checkFormula,
  type Dimension,
  dimensionOf,
  dimensionWords,
  type FormulaFault,
  type FormulaParser,
  type FormulaTree,
  sameDimension,
  treeNames,
  unitOf,
} from '../formula/index.ts';
import type { ParsedReading } from '../measure/parse-reading.ts';
import { readQuantity, type Unit } from '../quantity/index.ts';
import type { ClaimName, ClaimPlan } from '../study/claim-plan.ts';
import { type ParsedClaim, parseClaim, readingsIn } from '../study/claim-text.ts';
import { type BoardValue, boardValue } from './board-subject.ts';
import type { GoodBoard } from './board-table.ts';
import type { CellPlace } from './cell-names.ts';
import { readChoice } from './claim-choice.ts';
import { readWithin } from './compute-ask.ts';
import type { ClaimCell } from './notebook-document.ts';
import { readingUnit } from './reading-unit.ts';
import { readStudyTake } from './study-take.ts';

/** A claim cell as read for its board: the plan without its budget of events, and what its words are. */
export interface ReadClaim {
  readonly plan: Omit<ClaimPlan, 'maxEvents'>;
  readonly values: readonly BoardValue[];
  readonly claim: ParsedClaim;
  /** Unit of both sides; null for plain numbers and units without a name. */
  readonly unit: Unit | null;
}

/** Thrown inside this file and caught at its edge. */
class ClaimFault extends Error {
  readonly issues: readonly Issue[];

  constructor(issues: readonly Issue[]) {
    super('claim fault');
    this.issues = issues;
  }
}

/**
 * Reads a claim for its board, or says what is wrong with it.
 *
 * @param parse takes the text apart; without it only the ranges are looked at, and `read` is absent.
 */
export function readClaim(
  cell: ClaimCell,
  board: GoodBoard,
  at: CellPlace,
  parse: FormulaParser | undefined,
): { readonly read?: ReadClaim; readonly issues: readonly Issue[] } {
  const choices = Object.entries(cell.over).map(([name, range]) => readChoice(name, range, board, at));
  const issues = choices.flatMap((choice) => (choice.ok ? [] : choice.issues));
  if (parse === undefined || issues.length > 0) return { issues };
  const good = choices.filter((choice) => choice.ok);
  try {
    return { read: new Reader(cell, board, at, good).read(parse), issues };
  } catch (error) {
    if (error instanceof ClaimFault) return { issues: error.issues };
    throw error;
  }
}

type GoodChoice = Extract<ReturnType<typeof readChoice>, { ok: true }>;

class Reader {
  readonly #cell: ClaimCell;
  readonly #board: GoodBoard;
  readonly #at: CellPlace;
  readonly #choices: readonly GoodChoice[];
  readonly #names = new Map<string, ClaimName>();
  readonly #dimensions = new Map<string, Dimension>();

  constructor(cell: ClaimCell, board: GoodBoard, at: CellPlace, choices: readonly GoodChoice[]) {
    this.#cell = cell;
    this.#board = board;
    this.#at = at;
    this.#choices = choices;
  }

  read(parse: FormulaParser): ReadClaim {
    const { says, trials, seed } = this.#cell;
    const parsed = parseClaim(says, parse, (word) => this.#isPart(word));
    if (!parsed.ok) throw this.#refused('says', 'claim', parsed.fault);
    const { claim } = parsed;
    const readings = this.#readings(claim);
    const [left, right] = [claim.left, claim.right].map((tree) => this.#dimension(tree, 'says', claim.readings)) as [
      Dimension,
      Dimension,
    ];
    if (!sameDimension(left, right)) {
      const got = `${dimensionWords(left)} and ${dimensionWords(right)}`;
      const advice = 'Check what is multiplied with what, or divide by a unit, as in width(out) / 1 s.';
      throw this.#refused('says', 'units', { rule: 'compare only what has the same unit', got, advice });
    }
    const unit = unitOf(right) ?? null;
    const window = this.#window(parse);
    return {
      plan: {
        left: claim.left,
        right: claim.right,
        relation: claim.relation,
        tolerance: this.#tolerance(claim, unit),
        readings,
        names: Object.fromEntries(this.#names),
        ...window,
        choices: this.#choices.map(({ choice }) => choice),
        trials,
        seed,
      },
      values: this.#choices.map(({ value }) => value),
      claim,
      unit,
    };
  }

  #isPart(word: string): boolean {
    const [part = ''] = word.split('.');
    return this.#board.parts.some((each) => (each as { name?: unknown } | null)?.name === part);
  }

  #readings({ readings }: ParsedClaim): Record<string, ParsedReading> {
    const found: Record<string, ParsedReading> = {};
    for (const [mark, text] of readings) {
      const read = readStudyTake({ take: { says: text } }, this.#board, this.#at);
      if (read.issues.length > 0) {
        throw new ClaimFault(
          read.issues.map((issue) => ({
            ...issue,
            where: `${this.#at.place}.says`,
            field: 'says',
            message: issue.message.replaceAll('take.says', 'says'),
          })),
        );
      }
      const reading = read.readings.get('says');
      if (reading === undefined) throw new IssueError(read.issues);
      found[mark] = reading;
      const unit = readingUnit(text);
      if (unit !== undefined && unit !== 'list') this.#dimensions.set(mark, dimensionOf(unit));
    }
    return found;
  }

  /** What an expression measures, its names found on the board. */
  #dimension(tree: FormulaTree, field: string, readings: ReadonlyMap<string, string>): Dimension {
    for (const word of treeNames(tree)) {
      if (!readings.has(word) && !this.#names.has(word)) this.#name(word, field);
    }
    const check = checkFormula(tree, (word) => this.#dimensions.get(word));
    if (!check.ok) throw this.#refused(field, 'units', readingsIn(check.fault, readings));
    return check.formula.dimension ?? [0, 0, 0];
  }

  #name(word: string, field: string): void {
    const found = boardValue(word, this.#board);
    if (!found.ok) {
      const where = `${this.#at.place}.${field}`;
      const message = `${this.#at.label}: ${field} ${found.message}`;
      throw new ClaimFault([{ code: 'unknown-name', severity: 'fault', where, field, message }]);
    }
    const { part, steps, unit, now } = found.value;
    const choice = this.#choices.findIndex(
      ({ value }) => value.part === part && value.steps.join('.') === steps.join('.'),
    );
    this.#names.set(word, choice >= 0 ? { choice } : { value: now ?? Infinity });
    this.#dimensions.set(word, dimensionOf(unit));
  }

  #tolerance({ within, relation }: ParsedClaim, unit: Unit | null): ClaimPlan['tolerance'] {
    if (within === null) return null;
    if (relation === '<' || relation === '>') {
      const advice = `Write ${relation}= with a tolerance, or leave within out.`;
      throw this.#refused('says', 'claim', { rule: `be exact with ${relation}`, got: `within ${within}`, advice });
    }
    const read = readWithin(within, unit);
    if (read.ok) return { value: read.value, isShare: read.isShare };
    const { rule, advice } = read;
    throw this.#refused('says', 'claim', { rule: `have a tolerance: ${rule}`, got: `within ${within}`, advice });
  }

  /** The window of every run: times, or expressions for them. */
  #window(parse: FormulaParser): Pick<ClaimPlan, 'from' | 'until'> {
    const from = this.#time('from', parse);
    const until = this.#time('until', parse);
    if (typeof from !== 'number' || typeof until !== 'number' || until > from) return { from, until };
    const advice = 'Say how long every run lasts, for example "6 s".';
    throw this.#refused('until', 'out-of-range', { rule: 'be later than from', got: String(this.#cell.until), advice });
  }

  #time(field: 'from' | 'until', parse: FormulaParser): number | FormulaTree {
    const written = this.#cell[field];
    const advice = 'Write for example "6 s" or "20 * R1 * C1".';
    const time = readQuantity(written, 's');
    if (time.ok) {
      if (time.value >= 0) return time.value;
      throw this.#refused(field, 'out-of-range', { rule: 'be at least 0 s', got: String(written), advice });
    }
    const parsed = parse(String(written), (word) => this.#isPart(word));
    if (!parsed.ok) throw this.#refused(field, 'formula', parsed.fault);
    const dimension = this.#dimension(parsed.tree, field, new Map());
    if (sameDimension(dimension, dimensionOf('s'))) return parsed.tree;
    throw this.#refused(field, 'units', { rule: 'be a time', got: dimensionWords(dimension), advice });
  }

  #refused(field: string, code: string, { rule, got, advice }: FormulaFault): ClaimFault {
    const where = `${this.#at.place}.${field}`;
    const message = `${this.#at.label}: ${field} must ${rule}; got ${got}. ${advice}`;
    return new ClaimFault([{ code, severity: 'fault', where, field, message }]);
  }
}
