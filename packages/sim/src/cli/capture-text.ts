import { type CapturedEdge, type CaptureResult, numberText } from '../document/index.ts';
import { alignColumns, paragraph } from './columns.ts';

/** Edges and explanations listed as text. */
const SHOWN_EDGES = 16;
const SHOWN_EXPLANATIONS = 6;

/** A measurement against the prediction: what was read, edges side by side, values estimated, what may stand behind it. */
export function captureText({ sentences, edges, explanations, fit, cautions }: CaptureResult): string[] {
  const { reading, overlay, fit: estimated, apart } = sentences;
  const helpful = explanations.filter(({ explains }) => explains !== 'none');
  const shown = helpful.slice(0, SHOWN_EXPLANATIONS);
  return [
    ...told(cautions),
    '',
    ...told(reading),
    ...(edges.length === 0 ? [] : ['', ...edgeLines(edges)]),
    '',
    ...told(overlay),
    ...(estimated.length === 0 ? [] : ['', `  ${fit === null ? 'Values' : 'Values estimated'}:`, ...told(estimated)]),
    ...(shown.length === 0 ? [] : ['', '  What may stand behind the difference, each by itself, the best first:']),
    ...alignColumns(
      shown.map(({ sentence }, index) => [`${index + 1}`, sentence]),
      '  ',
    ),
    ...(helpful.length > shown.length
      ? [`  and ${helpful.length - shown.length} more; --csv and --json list them`]
      : []),
    ...(apart.length === 0 ? [] : ['', ...told(apart)]),
  ];
}

function edgeLines(edges: readonly CapturedEdge[]): string[] {
  const rows = edges
    .slice(0, SHOWN_EDGES)
    .map(({ net, to, measured, predicted, residual }) => [
      net,
      to,
      numberText(measured, 's'),
      predicted === null ? 'none' : numberText(predicted, 's'),
      residual === null ? '' : residual === 0 ? 'none' : numberText(residual, 's'),
    ]);
  const lines = alignColumns([['net', 'to', 'measured', 'predicted', 'difference'], ...rows], '  ');
  const more = edges.length - SHOWN_EDGES;
  return more > 0 ? [...lines, `  and ${more} more; --csv and --json list them all`] : lines;
}

function told(sentences: readonly string[]): string[] {
  return sentences.flatMap((sentence) => paragraph(sentence, '  '));
}
