import { amountText, type AskResult } from '../document/index.ts';
import { paragraph } from './columns.ts';

/** A question as text, with its computed answer, what would still be right, and what the run says about it. */
export function askText(result: AskResult): string[] {
  const none = result.reason === undefined ? '' : `, because ${result.reason}`;
  const within = result.allowance === 0 ? 'only exactly' : `within ${result.within}`;
  const right = result.allowance === null ? '' : ` (right ${within})`;
  const answer = `answer: ${result.answer} = ${amountText(result)}${none}${right}`;
  const why = result.explanation === undefined ? [] : paragraph(result.explanation, '  ');
  return [...paragraph(result.question, '  '), ...paragraph(answer, '  '), ...why];
}
