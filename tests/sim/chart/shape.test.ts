import { escaped, line, path, rect, shape, shapesText, text } from '#sim/chart/shape.ts';
import { describe, expect, test } from 'vitest';

describe('shapesText(drawing)', () => {
  test('writes elements with their attributes, one inside the other, and nothing for what is not there', () => {
    const drawing = [
      undefined,
      shape('g', { class: 'axis', transform: undefined }, [line('tick', [1, 2], [3, 4]), undefined]),
      text(undefined, [5, 6], ['in ', shape('tspan', { class: 'unit', dx: 8 }, ['volts'])], 'end'),
      rect('bar', { x: 0, y: 0, width: 2, height: 3 }, { rx: 1 }),
      path('', 'M0 0'),
    ];
    expect(shapesText(drawing)).toBe(
      '<g class="axis"><line class="tick" x1="1" x2="3" y1="2" y2="4"/></g>' +
        '<text x="5" y="6" text-anchor="end">in <tspan class="unit" dx="8">volts</tspan></text>' +
        '<rect class="bar" x="0" y="0" width="2" height="3" rx="1"/><path d="M0 0"/>',
    );
  });

  test('leaves text text, in elements and in attributes', () => {
    const drawing = [text('a"b', [0, 0], '<script>R1 & "R2"</script>')];
    expect(shapesText(drawing)).toBe(
      '<text class="a&quot;b" x="0" y="0">&lt;script&gt;R1 &amp; &quot;R2&quot;&lt;/script&gt;</text>',
    );
  });
});

describe('escaped(words)', () => {
  // Characters that XML 1.0 (fifth edition, section 2.2) does not know.
  test('leaves out characters that no XML file may hold', () => {
    expect(escaped('a\u0000b\u0008c\u001fd\uffffe\tf\ng')).toBe('abcde\tf\ng');
  });
});
