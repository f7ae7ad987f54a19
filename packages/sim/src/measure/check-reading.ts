import { nearestName } from '../core/nearest-name.ts';
import { type Issue, issueText } from '../core/errors.ts';
import { quotedText } from '../core/found-text.ts';
import type { MeasureContext } from './context.ts';
import type { ParsedReading } from './parse-reading.ts';
import { terminalNets } from './part-terminals.ts';

/** Longer lists of names are cut in messages. */
const MOST_NAMES = 30;

/** Every net a reading may name: those of the circuit, then the internal ones of its timers. */
function readableNets(context: MeasureContext): string[] {
  const internal = context.timers.flatMap((timer) => [timer.control, timer.lower]);
  return [...new Set([...context.circuit.nets, ...internal])];
}

/** What is wrong with the names in a reading: nets and parts that do not exist or do not fit. Empty if all is well. */
export function checkReading(parsed: ParsedReading, context: MeasureContext, where = 'reading'): Issue[] {
  const issues: Issue[] = [];
  for (const net of parsed.nets) {
    if (context.circuit.nets.includes(net)) continue;
    const nets = readableNets(context);
    if (!nets.includes(net)) issues.push(unknownName(parsed, where, 'net', net, nets));
  }
  if (parsed.part !== undefined) {
    const part = context.circuit.parts.find(({ name }) => name === parsed.part);
    if (part === undefined) {
      const fitting = context.circuit.parts.filter((each) => misfit(parsed.name, each) === undefined);
      issues.push(
        unknownName(
          parsed,
          where,
          'part',
          parsed.part,
          fitting.map(({ name }) => name),
        ),
      );
    } else {
      const rule = misfit(parsed.name, part);
      if (rule !== undefined) {
        issues.push(issue('reading-part', parsed, where, rule, `${part.name}, a ${part.kind}`, 'Name another part.'));
      }
    }
  }
  return issues;
}

/** The rule a part breaks that does not fit a reading of parts. */
function misfit(name: string, part: MeasureContext['circuit']['parts'][number]): string | undefined {
  if (name === 'light') return part.kind === 'led' ? undefined : 'name an LED';
  if (part.kind === 'timer') return 'name a part with two terminals';
  if (name === 'power' && terminalNets(part) === undefined) return 'name a part with two terminals';
  return undefined;
}

function unknownName(
  parsed: ParsedReading,
  where: string,
  what: 'net' | 'part',
  word: string,
  names: readonly string[],
): Issue {
  const near = nearestName(word, names);
  const listed = names.length > MOST_NAMES ? [...names.slice(0, MOST_NAMES), '...'] : names;
  const rule =
    names.length === 0
      ? `name a ${what} of the board, which has none that fits`
      : `name a ${what} of the board: ${listed.join(', ')}`;
  const advice = near === undefined ? `Choose one of them.` : `Did you mean ${near}?`;
  return issue(
    `unknown-${what}`,
    parsed,
    where,
    rule,
    quotedText(word),
    names.length === 0 ? 'Add one first.' : advice,
  );
}

function issue(code: string, parsed: ParsedReading, where: string, rule: string, got: string, advice: string): Issue {
  const message = issueText({ where, field: parsed.text, rule, got, advice });
  return { code, severity: 'fault', where, field: parsed.name, message };
}
