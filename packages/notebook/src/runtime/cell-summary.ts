import { isList, isRecord } from '../edit/json.ts';
import { boardOf, type PageCell, textField } from './cells.ts';

/** Longest summary (characters). */
const LONGEST = 90;

/** A cell in one line, as it stands when it is folded: the first words of a note, what a trace shows. */
export function cellSummary(cell: PageCell): string {
  const line = [cell.kind === 'note' ? plain(textField(cell.data, 'text') ?? '') : subject(cell)].join('').trim();
  if (line === '') return cell.kind;
  return line.length <= LONGEST ? line : `${line.slice(0, line.lastIndexOf(' ', LONGEST))} …`;
}

function subject({ data, ...cell }: PageCell): string {
  const board = boardOf({ data, ...cell });
  const { show, take, until } = data;
  const what = isList(show) ? show.map(String) : isRecord(take) ? Object.keys(take) : [];
  const text = textField(data, 'question') ?? textField(data, 'text') ?? what.join(', ');
  return [cell.kind, board === undefined ? '' : ` of ${board}`, text === '' ? '' : `: ${text}`]
    .concat(typeof until === 'string' ? ` until ${until}` : '')
    .join('');
}

function plain(text: string): string {
  return text
    .replace(/\[([^\]]*)\]\([^)]*\)/g, '$1')
    .replace(/[*_`>#]/g, '')
    .replace(/\s+/g, ' ');
}
