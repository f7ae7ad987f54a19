import { createHash } from 'node:crypto';
import { describe, expect, it } from 'vitest';
import { hashOf, onePageHtml } from '#notebook/storage/one-page.ts';

const program = 'start("Fernhollow Junction");';
const made = { title: 'Platform lamp', document: { format: 'two-thirds' }, program, hash: 'abc=' };

/** What stands in the script element of this type, as an HTML parser finds it: up to the first end tag. */
function scriptOf(html: string, type: string): string {
  return new RegExp(`<script type="${type}"[^>]*>([\\s\\S]*?)</script`).exec(html)?.[1] ?? '';
}

describe('onePageHtml', () => {
  it('holds the document as data and the program, both unchanged', () => {
    const html = onePageHtml(made);
    expect(JSON.parse(scriptOf(html, 'application/json'))).toEqual(made.document);
    expect(scriptOf(html, 'module')).toBe(program);
  });

  it.each([
    '</script><script>alert(1)</script>',
    '<!--<script>',
    '</SCRIPT ><img src=x onerror=alert(1)>',
    ']]></title><base href="https://example.org/">',
    '\u2028\u2029"\\u003c/script>',
  ])('lets no text of the document end its element: %s', (hostile) => {
    const document = { title: hostile, page: [{ text: hostile, [hostile]: 1 }] };
    const html = onePageHtml({ ...made, title: hostile, document });
    // The two elements of the page, and no tag that came with the text.
    expect(html.match(/<script/gi)).toHaveLength(2);
    expect(html.match(/<\/script/gi)).toHaveLength(2);
    expect(html).not.toMatch(/<!--|<img|<base/i);
    expect(html.match(/<\/title/g)).toHaveLength(1);
    expect(JSON.parse(scriptOf(html, 'application/json'))).toEqual(document);
  });

  it('lets its own program run and workers from memory, and nothing else', () => {
    const policy = /Content-Security-Policy" content="([^"]*)"/.exec(onePageHtml(made))?.[1];
    expect(policy?.split('; ')).toEqual([
      "default-src 'none'",
      "script-src 'sha256-abc='",
      'worker-src blob:',
      'img-src data:',
      "base-uri 'none'",
      "form-action 'none'",
    ]);
  });
});

describe('hashOf', () => {
  it('is base64 of SHA-256, of the text in UTF-8', async () => {
    const text = `${program} // 4.7 µF`;
    // Node's own implementation is the reference.
    expect(await hashOf(text)).toBe(createHash('sha256').update(text, 'utf8').digest('base64'));
  });
});
