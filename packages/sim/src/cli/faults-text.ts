import type { FaultRow } from '../document/index.ts';
import { paragraph } from './columns.ts';

/**
 * What parts did beyond their limits, a sentence each, and what else the run cautions of, which is lamps that flash too
 * fast; then what the start decides, and which limit is only grazed; nothing if there is nothing of the kind.
 */
export function faultsText(
  faults: readonly FaultRow[],
  flashing: readonly string[],
  powerUp: readonly string[] = [],
  grazes: readonly string[] = [],
): string[] {
  const beyond = faults.map(({ sentence }) => sentence);
  return [
    ...listText('Beyond its limits', beyond),
    ...listText('Flashing light', flashing),
    ...listText('Start', powerUp),
    ...listText('Grazed limit', grazes),
  ];
}

function listText(word: string, sentences: readonly string[]): string[] {
  return sentences.length === 0 ? [] : ['', `  ${word}:`, ...sentences.flatMap((each) => paragraph(each, '  '))];
}
