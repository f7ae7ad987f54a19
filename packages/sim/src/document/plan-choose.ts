import type { Part } from '../circuit/description.ts';
import type { Issue } from '../core/errors.ts';
import { familyTable } from '../device/family-table.ts';
import type { TimerFamily } from '../device/timer-parameters.ts';
import { newGraphStoreForSamples } from '../run/simulate.ts';
import { type ChooseJob, chooseJobCount, type ChooseOutcome, chooseStudy } from '../study/choose.ts';
import type { RankedSet } from '../study/choose-rank.ts';
import { evaluate } from '../study/evaluate.ts';
import type { Study } from '../study/study.ts';
import { surveyedStudy } from '../study/surveyed.ts';
import { boardSubject, type BoardValue, boardValue } from './board-subject.ts';
import type { GoodBoard } from './board-table.ts';
import type { CellPlace } from './cell-names.ts';
import type { ChooseResult, ChosenSetResult } from './choose-results.ts';
import { chosenSets, type ChosenSets, MOST_SETS, setCount, setsToAsk } from './choose-sets.ts';
import { type Adjustable, readAdjust, stockOf } from './choose-values.ts';
import { readWant, type WantedReading } from './choose-wishes.ts';
import { chooseWords } from './choose-words.ts';
import type { ChooseCell } from './notebook-document.ts';
import { ratingsNotStated } from './not-stated.ts';
import { fault } from './schema-wording.ts';

/** Sets listed in a result. */
const LISTED = 20;
/** Sets of a survey that one job runs. */
const SURVEYED_TOGETHER = 10;
/** What leaks at a timer: the parameters of which the largest published value is tried. */
const LEAKS = ['thresholdCurrent', 'triggerCurrent', 'dischargeLeakage'] as const;

/** What is wrong with the names, values and wishes of a choose cell on its board. */
export function chooseIssues(cell: ChooseCell, board: GoodBoard, at: CellPlace): readonly Issue[] {
  const { adjustables, issues } = readAdjust(cell, board, at);
  const { issues: wrong } = readWant(cell, board, at);
  if (issues.length + wrong.length > 0) return [...issues, ...wrong];
  const count = setCount(adjustables);
  if (count <= MOST_SETS) return [];
  const rule = `make at most ${MOST_SETS} sets of values`;
  const advice = 'Take a coarser series, a shorter range, or fewer values.';
  return [
    fault('too-many-sets', `${at.place}.adjust`, {
      label: at.label,
      field: 'adjust',
      rule,
      got: String(count),
      advice,
    }),
  ];
}

/** Plans a choose cell that {@link chooseIssues} has found nothing wrong with. */
export function planChoose(
  cell: ChooseCell,
  board: GoodBoard,
  at: CellPlace,
  maxEvents: number,
): Study<unknown, ChooseResult> {
  const { adjustables } = readAdjust(cell, board, at);
  const { wanted } = readWant(cell, board, at);
  const strain = leaksOf(board);
  const values = adjustables.map(({ value }) => value);
  const subject = boardSubject(board, [...values, ...strain.map(({ value }) => value)]);
  const readings = wanted.map(({ reading }) => reading);
  const question = {
    readings,
    window: { from: cell.from, until: cell.until },
    maxEvents,
    graphs: newGraphStoreForSamples(),
  };
  const study = (chosen: ChosenSets): Study<ChooseJob, ChooseOutcome> => {
    const plan = {
      ...question,
      names: values.map(({ name }) => name),
      sets: chosen.sets,
      wishes: wanted.map(({ wish }) => wish),
      strain: Object.fromEntries(strain.map(({ value, greatest }) => [value.name, greatest])),
      groups: chosen.groups,
      prefix: board.prefix,
    };
    return chooseStudy(plan, subject);
  };
  const { asked, count } = setsToAsk(board, adjustables, wanted);
  const whole = asked.length === 0 ? chosenSets(board, adjustables, wanted, () => []) : undefined;
  if (whole !== undefined) {
    const all = study(whole);
    const planned = { board, adjustables, wanted, chosen: whole };
    return {
      ...all,
      collect: (jobs) => chooseResult(cell, planned, all.collect(jobs as ReadonlyMap<number, ChooseJob>)),
    };
  }
  const nothing = {
    sets: [],
    groups: [{ name: 'as asked', sets: [], of: setCount(adjustables) }],
    rules: [],
    surveyed: 0,
  };
  let chosen: ChosenSets = nothing;
  return surveyedStudy<SurveyRuns, ChooseJob, ChooseOutcome, ChooseResult>({
    firstCount: Math.ceil(asked.length / SURVEYED_TOGETHER),
    runFirst(index, signal) {
      const found: (number | null)[][] = [];
      for (const set of asked.slice(index * SURVEYED_TOGETHER, (index + 1) * SURVEYED_TOGETHER)) {
        const given = new Map(values.map(({ name }, place) => [name, set[place] ?? NaN]));
        const evaluation = evaluate(subject, given, question, signal);
        if (evaluation === undefined) return undefined;
        found.push(evaluation.measured.map(({ value }) => value));
      }
      return found;
    },
    // Sets that two series share are run once, so that there may be fewer jobs than this.
    laterCount: chooseJobCount(count),
    later(found, signal) {
      const results = new Map(found.flat().map((result, index) => [asked[index]?.join(' '), result]));
      const sets = chosenSets(board, adjustables, wanted, (set) => results.get(set.join(' ')) ?? [], signal);
      if (sets === undefined) return undefined;
      chosen = sets;
      return study(chosen);
    },
    collect(outcome, share) {
      const found = outcome ?? study(nothing).collect(new Map());
      return chooseResult(cell, { board, adjustables, wanted, chosen }, { ...found, share });
    },
  });
}

/** What one job of a survey gives: the readings of its sets. */
type SurveyRuns = readonly (readonly (number | null)[])[];

/** The largest published input and leakage currents of the board's timers, where it does not state its own. */
function leaksOf(board: GoodBoard): { readonly value: BoardValue; readonly greatest: number }[] {
  const timers = board.circuit.parts.filter(({ name, kind }) => kind === 'timer' && name.startsWith(board.prefix));
  return timers.flatMap((timer: Part) => {
    const stated = (timer.values.with ?? {}) as Readonly<Record<string, unknown>>;
    return LEAKS.flatMap((parameter) => {
      const { greatest } = familyTable[timer.values.family as TimerFamily][parameter];
      const found = boardValue(`${timer.name.slice(board.prefix.length)}.with.${parameter}`, board);
      if (greatest === undefined || stated[parameter] !== undefined || !found.ok) return [];
      return [{ value: found.value, greatest }];
    });
  });
}

interface Planned {
  readonly board: GoodBoard;
  readonly adjustables: readonly Adjustable[];
  readonly wanted: readonly WantedReading[];
  readonly chosen: ChosenSets;
}

function chooseResult(cell: ChooseCell, planned: Planned, outcome: ChooseOutcome): ChooseResult {
  const { board, adjustables, wanted, chosen } = planned;
  const { ranked, harmful, without, best, units, share } = outcome;
  const asked = new Set(chosen.groups[0]?.sets);
  const own = ranked.filter(({ set }) => asked.has(set));
  const stock = adjustables.map(({ value }) => new Set(stockOf(cell.stock, value.unit)));
  const setResult = (each: RankedSet): ChosenSetResult => {
    const values = chosen.sets[each.set] ?? [];
    return {
      values,
      readings: each.values,
      off: each.values.map((value, index) => {
        const { target } = wanted[index]!.wish;
        return target === 0 ? null : value / target - 1;
      }),
      error: each.error,
      granted: each.granted,
      inStock: cell.stock.length === 0 ? null : values.every((value, index) => stock[index]?.has(value)),
      strained: each.strained,
    };
  };
  const leftOut = (all: ChooseOutcome['harmful']): ChooseResult['harmful'] => {
    const those = all.filter(({ set }) => asked.has(set));
    const listed = those.slice(0, LISTED).map(({ set, why }) => ({ values: chosen.sets[set] ?? [], why }));
    return { count: those.length, sets: listed };
  };
  const [harms, misses] = [leftOut(harmful), leftOut(without)];
  const result = {
    kind: 'choose',
    ok: true,
    board: cell.board,
    from: cell.from,
    until: cell.until,
    adjust: adjustables.map(({ value, points, series }) => ({
      value: value.name,
      unit: value.unit,
      now: value.now,
      count: points.length,
      series: series?.name ?? null,
    })),
    want: wanted.map(({ name, asked: text, unit, wish }, index) => ({
      name,
      asked: text,
      unit: units[index] ?? unit,
      ...wish,
    })),
    sets: own.slice(0, LISTED).map(setResult),
    counts: {
      there: chosen.groups[0]?.of ?? 0,
      run: own.length + harms.count + misses.count,
      ranked: own.length,
      granted: own.filter(({ granted }) => granted).length,
    },
    rules: chosen.rules,
    surveyed: chosen.surveyed,
    precision: chosen.groups.slice(1).map(({ name }, index) => {
      const found = best[index + 1] ?? null;
      return { series: name, best: found === null ? null : setResult(found) };
    }),
    harmful: harms,
    without: misses,
    notStated: ratingsNotStated(board),
    share,
  } as const;
  return { ...result, sentence: chooseWords(result) };
}
