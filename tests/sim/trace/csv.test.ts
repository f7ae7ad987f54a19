import { describe, expect, it } from 'vitest';
import { csvText, edgesCsv, envelopesCsv } from '#sim/trace/csv.ts';

// Expected texts follow RFC 4180, section 2: CRLF records, quotes doubled inside quoted fields.
describe('CSV', () => {
  it('csvText() quotes fields with commas, quotes and line breaks and no others', () => {
    expect(
      csvText(
        ['a', 'b,c'],
        [
          ['say "on"', 1.5e-7],
          ['two\nlines', -0.25],
        ],
      ),
    ).toBe('a,"b,c"\r\n"say ""on""",1.5e-7\r\n"two\nlines",-0.25\r\n');
  });

  it('edgesCsv() merges nets in the order of time', () => {
    const edges = {
      out: [
        { time: 0, to: 'high' },
        { time: 2, to: 'low' },
      ],
      in: [{ time: 1, to: 'high' }],
    } as const;
    expect(edgesCsv(edges)).toBe('time_s,net,to\r\n0,out,high\r\n1,in,high\r\n2,out,low\r\n');
  });

  it('envelopesCsv() has a row for each column with its borders', () => {
    const envelope = { first: [1, 2], last: [2, 3], low: [0, 2], high: [2, 4] };
    expect(envelopesCsv({ from: 0, until: 1, columns: 2 }, [{ show: 'out', envelope }])).toBe(
      'from_s,until_s,out_first_V,out_last_V,out_low_V,out_high_V\r\n0,0.5,1,2,0,2\r\n0.5,1,2,3,2,4\r\n',
    );
  });
});
