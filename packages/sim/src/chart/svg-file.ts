import { type Look, lightInks } from './look.ts';
import { type Drawing, escaped, shapesText } from './shape.ts';

/** A drawing that is to stand in a file of its own. */
export interface Picture {
  readonly width: number;
  readonly height: number;
  /** What it shows, in a few words. */
  readonly title: string;
  /** What it says, for people who cannot see it. */
  readonly description: string;
  readonly looks: readonly (Look | string)[];
  readonly drawing: Drawing;
}

/** Room around the drawing (pixels). */
const MARGIN = 16;
/** No font comes along: whatever the system reads best with. */
const FONTS = "system-ui,-apple-system,'Segoe UI',Roboto,'Noto Sans','Open Sans','DejaVu Sans',sans-serif";

/**
 * The text of an SVG file (SVG 1.1) that needs nothing but itself: no script, no font, no address. Inks are those of
 * paper.
 */
export function svgFile({ width, height, title, description, looks, drawing }: Picture): string {
  const ink = (name: keyof typeof lightInks): string => lightInks[name];
  const styles = looks.map((look) => (typeof look === 'string' ? look : look(ink)).trim());
  const [wide, high] = [width + 2 * MARGIN, Math.ceil(height) + 2 * MARGIN];
  const sides = `width="${wide}" height="${high}"`;
  return `<svg xmlns="http://www.w3.org/2000/svg" ${sides} viewBox="${-MARGIN} ${-MARGIN} ${wide} ${high}" role="img" aria-labelledby="title desc">
<title id="title">${escaped(title)}</title>
<desc id="desc">${escaped(description)}</desc>
<style>
text{font-family:${FONTS};font-variant-numeric:tabular-nums}
${styles.join('\n')}
</style>
<rect x="${-MARGIN}" y="${-MARGIN}" ${sides} fill="${lightInks.ground}"/>
${shapesText(drawing)}
</svg>
`;
}
