import { readyBoards } from '@two-thirds/sim/board';
import { readQuantity, type Unit } from '@two-thirds/sim/quantity';
import { terminalNets } from './board-names.ts';
import { timerNets } from './board-start.ts';
import { boardParts } from './board-values.ts';
import { isList, isRecord, type Json, type JsonRecord } from './json.ts';
import { valueAt } from './path.ts';

/** The rule of thumb for the time of a board, as expressions over its values. */
export interface TimingRule {
  /** The reading that the rule is about: `width(out)`. */
  readonly reading: string;
  /** `1.1 * R1 * C1` */
  readonly text: string;
  readonly unit: Unit;
  /** What the rule gives for the board as it stands, in `unit`. */
  readonly value: number;
  /** The parts that set the time, resistors first. */
  readonly parts: readonly string[];
  /** A window that shows the reading whatever values these parts have, as expressions over them. */
  readonly from?: string;
  readonly until: string;
}

/** Periods of an astable before its readings are taken and until they end. */
const SETTLED = 2;
const WATCHED = 22;
/** Charging times after the last press within which an interval ends however leaky its capacitor is. */
const CHARGES = 10;

/**
 * The rule for the first timer of a board: `1.1 R C` for one interval, `1.44 / ((R1 + 2 R2) C)` for one that runs by
 * itself, through one resistor between the output and its capacitor as well, or past the second resistor through a
 * diode (TI SLFS022I (Sept 2014), pp. 10 and 11; the last two follow from charging and emptying through equal
 * resistances). Undefined for other circuits.
 */
export function timingRule(document: Json, board: string): TimingRule | undefined {
  const parts = boardParts(document, board);
  const { trigger, threshold, output, discharge } = timerNets(document, board);
  if (threshold === undefined || output === undefined || trigger === undefined) return undefined;
  const at = (kind: string, ...nets: readonly string[]): JsonRecord | undefined =>
    parts.find((part) => isAt(part, kind, ...nets));
  const capacitor = sized(at('capacitor', threshold), 'capacitance', 'F');
  const charging = sized(at('resistor', threshold), 'resistance', 'Ω');
  if (capacitor === undefined || charging === undefined) return undefined;
  if (trigger !== threshold) {
    const time = `${charging.name} * ${capacitor.name}`;
    return {
      reading: `width(${output})`,
      text: textbookText(document, board, `width(${output})`) ?? `1.1 * ${time}`,
      unit: 's',
      value: 1.1 * charging.value * capacitor.value,
      parts: [charging.name, capacitor.name],
      until: `${Number(lastStart(parts).toPrecision(6))} s + ${CHARGES} * ${time}`,
    };
  }
  const loop = cycle(threshold);
  if (loop === undefined) return undefined;
  const time = `${loop.text} * ${capacitor.name}`;
  return {
    reading: `frequency(${output})`,
    text: textbookText(document, board, `frequency(${output})`) ?? `1.44 / (${time})`,
    unit: 'Hz',
    value: 1.44 / (loop.value * capacitor.value),
    parts: [...loop.parts, capacitor.name],
    from: `${SETTLED} * ${time}`,
    until: `${WATCHED} * ${time}`,
  };

  /** The resistance that a whole period goes through. */
  function cycle(net: string): { text: string; value: number; parts: string[] } | undefined {
    const single = output === undefined ? undefined : sized(at('resistor', net, output), 'resistance', 'Ω');
    if (single !== undefined) return { text: `2 * ${single.name}`, value: 2 * single.value, parts: [single.name] };
    if (discharge === undefined || discharge === net) return undefined;
    const second = sized(at('resistor', net, discharge), 'resistance', 'Ω');
    const first = sized(
      parts.find((part) => isAt(part, 'resistor', discharge) && part['name'] !== second?.name),
      'resistance',
      'Ω',
    );
    if (first === undefined || second === undefined) return undefined;
    const passes = at('diode', discharge, net)?.['a'] === discharge;
    const times = passes ? '' : '2 * ';
    return {
      text: `(${first.name} + ${times}${second.name})`,
      value: first.value + (passes ? 1 : 2) * second.value,
      parts: [first.name, second.name],
    };
  }
}

/** The right side of a ready board's own rule, where it is nothing but an expression over its values. */
function textbookText(document: Json, board: string, reading: string): string | undefined {
  const ready = valueAt(document, ['boards', board, 'ready']);
  const rules = typeof ready === 'string' ? (readyBoards.get(ready)?.textbook ?? []) : [];
  const formula = rules.find((rule) => rule.reading === reading)?.formula;
  const text = formula
    ?.slice(formula.indexOf('=') + 1)
    .trim()
    .replaceAll('·', '*');
  return text !== undefined && /^[\w\s.()*/+-]+$/.test(text) ? text : undefined;
}

function isAt(part: JsonRecord, kind: string, ...nets: readonly string[]): boolean {
  const own = Object.values(terminalNets(part));
  return part['kind'] === kind && nets.every((net) => own.includes(net));
}

function sized(
  part: JsonRecord | undefined,
  field: string,
  unit: Unit,
): { readonly name: string; readonly value: number } | undefined {
  const value = number(part?.[field], unit);
  return typeof part?.['name'] === 'string' && value > 0 ? { name: part['name'], value } : undefined;
}

/** When whatever is done to a board first is over at the latest (s): presses, touches, the first pulse of a signal. */
function lastStart(parts: readonly JsonRecord[]): number {
  const ends = parts.flatMap((part) => {
    const acts = [part['presses'], part['touches']].flatMap((each) => (isList(each) ? each.filter(isRecord) : []));
    const { wave } = part;
    const frequency = number(valueAt(wave, ['frequency']), 'Hz');
    const pulse = isRecord(wave)
      ? number(wave['delay'], 's') + (number(wave['width'], 's') || (frequency > 0 ? 2 / frequency : 0))
      : 0;
    return [pulse, ...acts.map((act) => number(act['at'], 's') + number(act['for'], 's'))];
  });
  return Math.max(0, ...ends);
}

function number(value: Json | undefined, unit: Unit): number {
  const read = value === undefined ? undefined : readQuantity(value, unit);
  return read?.ok === true && Number.isFinite(read.value) ? read.value : 0;
}
