import { IssueError } from '../core/errors.ts';
import type { Part } from '../circuit/description.ts';
import { checkReading } from './check-reading.ts';
import type { MeasureContext, ReadingObserver, Window } from './context.ts';
import { edgeReading } from './edge-reading.ts';
import type { ParsedReading } from './parse-reading.ts';
import { EdgeListTally, MarkTally } from './readings/counts.ts';
import { CycleTally } from './readings/cycles.ts';
import { extremeReading, levelReading, meanReading } from './readings/levels.ts';
import { DelayTally, RatioTally } from './readings/pairs.ts';
import { meanCurrentReading, peakCurrentReading, powerReading } from './readings/parts.ts';
import { SpanTally } from './readings/spans.ts';
import { determinedCurrent } from './shared-current.ts';

/**
 * Makes the observer that takes a reading while a run goes by, in memory that does not depend on the length of the run.
 * Means, counts and ratios use what lies wholly inside the window.
 *
 * @throws IssueError if the reading names a net or part that does not exist or does not fit.
 */
export function readingObserver(parsed: ParsedReading, context: MeasureContext, window: Window): ReadingObserver {
  const issues = checkReading(parsed, context);
  if (issues.length > 0) throw new IssueError(issues);
  const level = parsed.limit ?? context.highLevel;
  // The parser gives every reading as many nets as its form takes; those of parts have none and use none.
  const [net = '', second = ''] = parsed.nets;
  switch (parsed.name) {
    case 'width':
    case 'widths':
    case 'low':
    case 'lows':
      return edgeReading([net], level, window, new SpanTally(parsed));
    case 'period':
    case 'periods':
    case 'frequency':
    case 'duty':
      return edgeReading([net], level, window, new CycleTally(parsed));
    case 'count':
    case 'first':
      return edgeReading([net], level, window, new MarkTally(parsed));
    case 'edges':
      return edgeReading([net], level, window, new EdgeListTally(parsed));
    case 'ratio':
      return edgeReading([second, net], level, window, new RatioTally(parsed));
    case 'delay':
      return edgeReading([net, second], level, window, new DelayTally(parsed));
    case 'level':
      return levelReading(net, parsed.at ?? 0);
    case 'peak':
      return extremeReading(net, window, 'high');
    case 'trough':
      return extremeReading(net, window, 'low');
    case 'mean':
      return meanReading(net, window);
    case 'current':
    case 'light': {
      const part = namedPart(parsed, context);
      return determinedCurrent(meanCurrentReading(part, window, parsed.name), part, context.circuit, window);
    }
    case 'peak_current': {
      const part = namedPart(parsed, context);
      return determinedCurrent(peakCurrentReading(part, window), part, context.circuit, window);
    }
    case 'power':
      return powerReading(namedPart(parsed, context), window);
  }
}

function namedPart(parsed: ParsedReading, context: MeasureContext): Part {
  // `checkReading` has refused a reading whose part does not exist.
  return context.circuit.parts.find(({ name }) => name === parsed.part)!;
}
