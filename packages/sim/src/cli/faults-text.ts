import type { FaultRow } from '../document/index.ts';
import { paragraph } from './columns.ts';

/** What parts did beyond their limits, a sentence each; nothing if all stayed inside. */
export function faultsText(faults: readonly FaultRow[]): string[] {
  if (faults.length === 0) return [];
  return ['', '  Beyond its limits:', ...faults.flatMap(({ sentence }) => paragraph(sentence, '  '))];
}
