import { csvText } from '../trace/csv.ts';
import type { CsvFile } from './cell-csv.ts';
import type { SymptomsResult } from './symptoms-result.ts';

/** The faults with their readings, groups of what looks alike, and how well each fault fits what was seen. */
export function symptomsCsv(id: string, result: SymptomsResult): CsvFile[] {
  const { readings, further, asBuilt, rows: faults, groups, ranked } = result;
  const heads = [...readings, ...further].map(({ name, unit }) => (unit === null ? name : `${name}_${unit}`));
  const titleOf = (index: number): string => (index < 0 ? 'as built' : (faults[index]?.title ?? ''));
  const lines = [
    ...(asBuilt === null ? [] : [['', '', 'as built', ...asBuilt.map((value) => value ?? ''), 'yes', '', '']]),
    ...faults.map(({ part, what, title, values, build, seen, harms }) => [
      part,
      what,
      title,
      ...values.map((value) => value ?? ''),
      build ? 'yes' : 'no',
      seen,
      harms.join(' '),
    ]),
  ];
  const alike = groups.flatMap(({ members, separator }, group) =>
    members.map((member) => [
      group + 1,
      titleOf(member),
      separator?.reading ?? '',
      separator === null ? '' : separator.parts.findIndex((part) => part.includes(member)) + 1,
    ]),
  );
  return [
    { name: `${id}.csv`, text: csvText(['part', 'what', 'fault', ...heads, 'may_be_built', 'seen', 'harms'], lines) },
    { name: `${id}.groups.csv`, text: csvText(['group', 'fault', 'told_apart_by', 'into'], alike) },
    ...(ranked.length === 0
      ? []
      : [
          {
            name: `${id}.ranked.csv`,
            text: csvText(
              ['fault', 'off'],
              ranked.map(({ fault, off }) => [titleOf(fault), off]),
            ),
          },
        ]),
  ];
}
