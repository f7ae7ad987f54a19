import { pageText } from '#sim/cli/page-text.ts';
import { computeDocument } from '#sim/document/index.ts';
import { expect, test } from 'vitest';
import { plain } from '../../support/circuit-issues.ts';
import { documentOf, usable } from '../../support/documents.ts';

function printed(values: object): string {
  const cells = [
    { id: 'board', kind: 'board', board: 'flasher' },
    { id: 'look', kind: 'trace', board: 'flasher', until: '1 s', show: ['out'] },
  ];
  const document = usable(documentOf({ flasher: { ready: 'astable', values } }, cells));
  return plain(pageText(document, computeDocument(document, { columns: 20 })));
}

test('a page in text names the dangers of a board before its parts', () => {
  const text = printed({ R3: '220 Ω', 'R3.rating': '1 W' });
  // (12 - 1.3 - 1.7) V / (4 + 220 + 10) ohm
  expect(text).toContain(
    [
      'board: board flasher',
      '  Danger as built:',
      '  D1: an LED always needs a current-limiting path; as joined here about 38 mA',
      '  may flow, above the limit of 20 mA (20 mA unless stated).',
      '',
      '  BT1',
    ].join('\n'),
  );
  expect(printed({})).not.toContain('Danger');
});

test('a page in text warns of lamps that flash too fast, at the run that shows it', () => {
  const text = printed({ C1: '1 µF', 'U1.family': 'ideal' });
  expect(text).toMatch(
    /^ {2}Flashing light:\n {2}Lamps that flash 3 to 60 times a second .*?\n {2}D1 flashes [\d.]+ to 9\.88 times a/ms,
  );
  expect(printed({})).not.toContain('Flashing light');
});
