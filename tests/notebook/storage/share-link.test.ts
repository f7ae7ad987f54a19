import type { Json } from '#notebook/edit/json.ts';
import { LONGEST_LINK, packDocument, SHARED, unpackDocument } from '#notebook/storage/share-link.ts';
import { deflateRawSync } from 'node:zlib';
import { describe, expect, test } from 'vitest';
import { processorTime } from '../../support/processor-time.ts';

const page: Json = {
  format: 'two-thirds',
  version: 1,
  title: 'Platform lamp, 10 µF',
  boards: { lamp: { ready: 'monostable' } },
  page: [{ id: 'words', kind: 'note', text: 'Fernhollow Junction – “press”.' }],
};

const fragmentOf = (text: string | Buffer): string => SHARED + deflateRawSync(text).toString('base64url');

async function complaintOf(fragment: string): Promise<string> {
  const read = await unpackDocument(fragment);
  return 'complaint' in read ? read.complaint : '';
}

describe('a page in a link', () => {
  test('what is packed is unpacked the same, letters of every kind included', async () => {
    const packed = await packDocument(page);
    if (!('fragment' in packed)) throw new Error('the page must fit');
    // Only characters that need no escape in a fragment (RFC 3986, section 3.5).
    expect(packed.fragment).toMatch(/^page=[\w-]+$/);
    expect(await unpackDocument(packed.fragment)).toEqual({ document: page });
  });

  test('an independent deflate (RFC 1951) is read as well', async () => {
    expect(await unpackDocument(fragmentOf(JSON.stringify(page)))).toEqual({ document: page });
  });

  test('a page that is too long for a link says how long it would be', async () => {
    // Random letters do not compress below six bits each.
    let seed = 1;
    const text = Array.from({ length: 30_000 }, () => {
      seed = (seed * 48_271) % 2_147_483_647;
      return String.fromCharCode(97 + (seed % 26));
    }).join('');
    const packed = await packDocument({ ...(page as object), page: [{ id: 'words', kind: 'note', text }] });
    expect(packed).toEqual({ tooLong: expect.any(Number) });
    expect((packed as { tooLong: number }).tooLong).toBeGreaterThan(LONGEST_LINK);
  });

  test.each([
    ['nothing', SHARED, 'made of letters'],
    ['letters that are no base64url', `${SHARED}a+b/c%20`, 'made of letters'],
    ['what is no deflate', `${SHARED}AAAAAAAA`, 'be whole'],
    ['a cut off link', fragmentOf(JSON.stringify(page)).slice(0, -20), 'be whole'],
    ['no JSON', fragmentOf('oops'), 'line 1, column 1'],
    ['another format', fragmentOf('{"format":"something else"}'), 'two-thirds'],
    ['a later version', fragmentOf('{"format":"two-thirds","version":99,"boards":{},"page":[]}'), 'later'],
    ['a fragment beyond all measure', SHARED + 'A'.repeat(200_000), 'at most'],
  ])('%s is refused with a message', async (_, fragment, words) => {
    expect(await complaintOf(fragment)).toContain(words);
  });

  test('a small link that unfolds to sixty times the limit is refused in little time and room', async () => {
    const bomb = SHARED + deflateRawSync(Buffer.alloc(60_000_000)).toString('base64url');
    expect(bomb.length).toBeLessThan(100_000);
    const start = processorTime();
    expect(await complaintOf(bomb)).toContain('unfold to at most 1 MB');
    // Generous: unfolding it all takes far longer than the first megabyte.
    expect(processorTime() - start).toBeLessThan(2000);
  });
});
