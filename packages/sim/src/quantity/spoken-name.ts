import { fieldWords } from './field-words.ts';

/**
 * What a value is called in a sentence: `R1`, `C1 leakage`, `G1 period` for `G1.wave.period`, `S1 press 1 for` for
 * `S1.press[0].for`. That the period of a signal stands in its wave matters to the document alone.
 */
export function spokenName(name: string): string {
  const [part = '', ...fields] = name.split('.');
  const spoken = fields.map((field) =>
    fieldWords(field.replaceAll('_', ' ')).replace(/\[(\d+)\]$/u, (_, index: string) => ` ${Number(index) + 1}`),
  );
  return [part, ...spoken.filter((field) => field !== 'wave')].join(' ');
}
