import {
  checkFormula,
  compileNumber,
  type Dimension,
  dimensionOf,
  type FormulaFault,
  type FormulaParser,
  type FormulaTree,
  treeNames,
} from '../formula/index.ts';
import { type BoardValue, boardValue } from './board-subject.ts';
import type { GoodBoard } from './board-table.ts';

/** An expression over values of one board, such as `1.1 * R1 * C1`. */
interface BoardFormula {
  /** As written, without space around it. */
  readonly text: string;
  /** What it measures; `undefined` where that cannot be known. */
  readonly dimension: Dimension | undefined;
  /** What it gives (SI) with a number in place of one of the board's values; not finite where it gives nothing. */
  readonly over: (value: BoardValue) => (number: number) => number;
}

/** An expression, or what is wrong with its text, its units or a name in it, as "must ...; got .... ...". */
export type ReadBoardFormula =
  | { readonly ok: true; readonly formula: BoardFormula }
  | { readonly ok: false; readonly code: string; readonly message: string };

/** Reads an expression whose names are values of a board, as knobs name them. Never throws, whatever the text. */
export function readBoardFormula(text: string, board: GoodBoard, parse: FormulaParser): ReadBoardFormula {
  const parsed = parse(text, (word) => isPartOf(word, board));
  if (!parsed.ok) return refused('formula', parsed.fault);
  const values = new Map<string, BoardValue>();
  for (const word of treeNames(parsed.tree)) {
    const found = boardValue(word, board);
    if (!found.ok) return { ok: false, code: 'unknown-name', message: found.message };
    values.set(word, found.value);
  }
  const check = checkFormula(parsed.tree, (word) => dimensionOf(values.get(word)?.unit ?? null));
  if (!check.ok) return refused('units', check.fault);
  const { dimension } = check.formula;
  return { ok: true, formula: { text: text.trim(), dimension, over: computing(parsed.tree, values) } };
}

/** Whether a word begins with a part of the board: such words are names even where a unit is called the same. */
function isPartOf(word: string, board: GoodBoard): boolean {
  const [part = ''] = word.split('.');
  return board.parts.some((each) => (each as { name?: unknown } | null)?.name === part);
}

function computing(tree: FormulaTree, values: ReadonlyMap<string, BoardValue>): BoardFormula['over'] {
  const compute = compileNumber({ tree });
  return (varied) => {
    const own = [...values].map(([word, value]) => ({
      word,
      now: value.now ?? Infinity,
      isVaried: same(value, varied),
    }));
    return (number) => compute(new Map(own.map(({ word, now, isVaried }) => [word, isVaried ? number : now])));
  };
}

/** Whether two names mean one value: `R1` and `R1.resistance`. */
function same(a: BoardValue, b: BoardValue): boolean {
  return a.part === b.part && a.steps.join('.') === b.steps.join('.');
}

function refused(code: string, { rule, got, advice }: FormulaFault): ReadBoardFormula {
  return { ok: false, code, message: `must ${rule}; got ${got}. ${advice}` };
}
