import { OPENING_CAUTION } from '../circuit/cautions.ts';
import { GROUND } from '../circuit/names.ts';
import type { Issue } from '../core/errors.ts';
import { parseReading } from '../measure/parse-reading.ts';
import { readQuantity } from '../quantity/index.ts';
import { highLevel, timersOf } from '../run/simulate.ts';
import type { Study } from '../study/study.ts';
import type { Subject } from '../study/subject.ts';
import { rankedFits, symptomGroups } from '../study/symptom-groups.ts';
import { seenWords } from '../study/symptom-words.ts';
import { FAULT, type SymptomRow, type SymptomsOutcome, type SymptomsPlan, symptomsStudy } from '../study/symptoms.ts';
import type { GoodBoard } from './board-table.ts';
import { type CellPlace, runNames } from './cell-names.ts';
import { listedNames, nameAdvice } from './name-help.ts';
import type { SymptomsCell } from './notebook-document.ts';
import { placeInside } from './place.ts';
import { ALIKE } from './plan-swaps.ts';
import { readingUnit } from './reading-unit.ts';
import { fault, foundData } from './schema-wording.ts';
import type { SingleFault } from './faulty-part.ts';
import { faultyCircuit } from './faulty-circuit.ts';
import { singleFaults } from './single-faults.ts';
import { readStudyTake } from './study-take.ts';
import type { SymptomsReading, SymptomsResult } from './symptoms-result.ts';
import { symptomsWords } from './symptoms-words.ts';

/** In place of a quantity that was seen: the reading gave none. */
const NO_VALUE = 'none';
/** Further readings looked at. */
const MOST_FURTHER = 24;

/** What is wrong with the names and values of a symptoms cell on its board. */
export function symptomsIssues(cell: SymptomsCell, board: GoodBoard, at: CellPlace): readonly Issue[] {
  return [...readStudyTake(cell, board, at).issues, ...readSeen(cell, at).issues];
}

/** Plans a symptoms cell that {@link symptomsIssues} has found nothing wrong with. */
export function planSymptoms(
  cell: SymptomsCell,
  board: GoodBoard,
  at: CellPlace,
  maxEvents: number,
): Study<unknown, SymptomsResult> {
  const { readings } = readStudyTake(cell, board, at);
  const { from, until } = cell;
  const faults = singleFaults(board);
  const asked = Object.entries(cell.take).map(([name, text]) => readingOf(name, text));
  const further = furtherReadings(board, asked);
  const run = runNames(board);
  const more = further.map(({ asked: text }) => {
    const parsed = parseReading(text);
    const nets = parsed.nets.map((net) => run.resolve(net));
    return parsed.part === undefined ? { ...parsed, nets } : { ...parsed, nets, part: run.resolve(parsed.part) };
  });
  const plan: SymptomsPlan = {
    readings: [...readings.values(), ...more],
    asked: asked.length,
    single: faults.map(({ part, what, title, never }) => ({ part, what, title, never })),
    window: { from, until },
    maxEvents,
    prefix: board.prefix,
  };
  const study = symptomsStudy(plan, faultSubject(board, faults));
  const { seen } = readSeen(cell, at);
  return {
    ...study,
    collect: (jobs) => {
      const outcome = study.collect(jobs as ReadonlyMap<number, readonly SymptomRow[]>);
      return symptomsResult(cell, plan, faults, asked, further, seen, outcome);
    },
  };
}

/** The subject of studies of single faults: it is given the position of a fault, 0 for the board as built. */
function faultSubject(board: GoodBoard, faults: readonly SingleFault[]): Subject {
  return (values) => {
    const position = values.get(FAULT) ?? 0;
    if (position === 0) return { ok: true, context: runNames(board).context };
    const found = faults[position - 1];
    if (found === undefined)
      throw new RangeError(`faultSubject: fault must be one of ${faults.length}; got ${position}.`);
    const circuit = faultyCircuit(board, found.change);
    if (circuit === undefined) return { ok: false, reason: `${found.title} makes no circuit.` };
    // The level that counts as high is that of the board as built: nobody moves the meter's range for a fault.
    return { ok: true, context: { circuit, timers: timersOf(circuit), highLevel: highLevel(board.circuit) } };
  };
}

/** What a meter on any net, and in the lead of any supply, would say beside what is asked for. */
function furtherReadings({ circuit, prefix }: GoodBoard, asked: readonly SymptomsReading[]): SymptomsReading[] {
  const own = (name: string): boolean => name.startsWith(prefix) && name !== GROUND;
  const nets = circuit.nets.filter(own).map((net) => `mean(${net.slice(prefix.length)})`);
  const supplies = circuit.parts.filter(({ kind, name }) => kind === 'supply' && own(name));
  const texts = [...nets, ...supplies.map(({ name }) => `current(${name.slice(prefix.length)})`)];
  const taken = new Set(asked.map(({ asked: text }) => text.replaceAll(' ', '')));
  return texts
    .filter((text) => !taken.has(text))
    .slice(0, MOST_FURTHER)
    .map((text) => readingOf(text, text));
}

function readingOf(name: string, asked: string): SymptomsReading {
  const unit = readingUnit(asked);
  return { name, asked, unit: unit === undefined || unit === 'list' ? null : unit };
}

/** What was seen, by position of the reading. */
function readSeen(
  cell: SymptomsCell,
  at: CellPlace,
): { readonly seen: ReadonlyMap<number, number | null>; readonly issues: readonly Issue[] } {
  const names = Object.keys(cell.take);
  const seen = new Map<number, number | null>();
  const issues: Issue[] = [];
  for (const [name, data] of Object.entries(cell.seen)) {
    const field = placeInside('seen', name);
    const where = `${at.place}.${field}`;
    const position = names.indexOf(name);
    if (position < 0) {
      const rule = `name a reading of take (${listedNames(names)})`;
      const advice = nameAdvice(name, names, 'Correct the name.');
      issues.push(fault('unknown-reading', where, { label: at.label, field, rule, got: foundData(name), advice }));
      continue;
    }
    const unit = readingUnit(cell.take[name]);
    const read = data === NO_VALUE ? null : readNumber(data, unit);
    if (typeof read === 'string') {
      issues.push({ code: 'bad-value', severity: 'fault', where, field, message: `${at.label}: ${field} ${read}` });
    } else seen.set(position, read);
  }
  return { seen, issues };
}

/** A number, or what is wrong with it. */
function readNumber(data: unknown, unit: ReturnType<typeof readingUnit>): number | string {
  if (unit !== null && unit !== undefined && unit !== 'list') {
    const read = readQuantity(data, unit);
    return read.ok ? read.value : `${read.message} Where there was no value, write "${NO_VALUE}".`;
  }
  if (typeof data === 'number' && Number.isFinite(data)) return data;
  return `must be a plain number, or "${NO_VALUE}" where there was no value; got ${foundData(data)}. Write for example 3.`;
}

function symptomsResult(
  cell: SymptomsCell,
  plan: SymptomsPlan,
  faults: readonly SingleFault[],
  asked: readonly SymptomsReading[],
  further: readonly SymptomsReading[],
  seen: ReadonlyMap<number, number | null>,
  { rows, share }: SymptomsOutcome,
): SymptomsResult {
  const healthy = rows.get(0);
  const computed = [...rows].filter(([position]) => position > 0).sort(([a], [b]) => a - b);
  const places = new Map([[0, -1], ...computed.map(([position], index) => [position, index] as const)]);
  const placeOf = (position: number): number => places.get(position) ?? -1;
  const found = computed.flatMap(([position, row]) => {
    const described = faults[position - 1];
    if (described === undefined) return [];
    const { part, what, title, change } = described;
    const { values, reasons, harms, failed } = row;
    return [
      {
        ...{ part, what, title, change, values },
        reasons: Object.fromEntries(Object.entries(reasons)),
        seen: seenWords(asked, healthy, row, ALIKE),
        build: harms.length === 0 && failed === null,
        harms,
      },
    ];
  });
  const values = new Map(
    [...rows].flatMap(([position, row]) => (row.failed === null ? [[position, row.values] as const] : [])),
  );
  const groups = symptomGroups(values, plan.asked, ALIKE)
    .filter(({ members }) => members.length > 1)
    .map(({ members, separator }) => ({
      members: members.map(placeOf),
      separator: separator && {
        reading: further[separator.reading - plan.asked]?.asked ?? '',
        parts: separator.parts.map((part) => part.map(placeOf)),
      },
    }));
  const ranked =
    seen.size === 0 ? [] : rankedFits(values, seen).map(({ position, off }) => ({ fault: placeOf(position), off }));
  const names = Object.keys(cell.take);
  const result = {
    ...({ kind: 'symptoms', ok: true, board: cell.board, from: cell.from, until: cell.until } as const),
    cautions: [OPENING_CAUTION, FAULTS_CAUTION],
    readings: asked,
    further,
    asBuilt: healthy?.values ?? null,
    count: plan.single.length,
    rows: found,
    alike: ALIKE,
    groups,
    seen: Object.fromEntries([...seen].map(([position, value]) => [names[position] ?? '', value])),
    ranked,
    share,
  };
  return { ...result, sentence: symptomsWords(result) };
}

const FAULTS_CAUTION =
  'Build only faults that are not marked "do not build", with the supply off, and never reversed electrolytic capacitors, reversed supplies or ICs, shorts of a supply or a missing series resistor: these are computed only. That every part stays inside its ratings is a prediction, not a safety approval.';
