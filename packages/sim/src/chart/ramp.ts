/** The two themes of the page. */
export type Theme = 'light' | 'dark';

/** Into how many steps the ramp of maps is divided: finer than the eye tells apart. */
export const RAMP_STEPS = 24;

/**
 * Where the ramp passes through, from low values to high ones: on paper from straw through water to night, at night the
 * other way round. Lightness runs one way all along, so that it reads the same without colours; its blues and straws are
 * told apart with every common kind of colour vision, and nothing in it is like the rust of the hatching.
 */
const anchors: Readonly<Record<Theme, readonly string[]>> = {
  light: ['#f4ecd2', '#cfdcbb', '#97c2b5', '#5c9fa8', '#3a7694', '#2f4d74', '#222745'],
  dark: ['#21343c', '#275662', '#3b7c86', '#689f98', '#a1c19a', '#d9d9a0', '#fbf4d8'],
};
/** Inks for text on the ramp: only pure black and white leave no colour without one that reads well. */
const inks = ['#000000', '#ffffff'] as const;

type Triple = readonly [number, number, number];

/** The colours of the ramp as #rrggbb, from low values to high ones. */
export function rampColours(theme: Theme): string[] {
  const stops = anchors[theme].map(toLab);
  return Array.from({ length: RAMP_STEPS }, (_, step) => {
    const place = (step / (RAMP_STEPS - 1)) * (stops.length - 1);
    const index = Math.min(stops.length - 2, Math.floor(place));
    const [from, to] = [stops[index]!, stops[index + 1]!];
    return fromLab(mixed(from, to, place - index));
  });
}

/** The step of the ramp for one of `count` things in order, the first near its beginning, the last near its end. */
export function rampStep(index: number, count: number): number {
  if (count < 2) return Math.floor(RAMP_STEPS / 3);
  return Math.round((index / (count - 1)) * (RAMP_STEPS - 1));
}

/** The ink that reads best on a colour, as #rrggbb. */
export function inkOn(colour: string): string {
  return contrast(inks[0], colour) >= contrast(inks[1], colour) ? inks[0] : inks[1];
}

/** Contrast of two colours #rrggbb, 1 to 21 (WCAG 2.2, contrast ratio). */
export function contrast(a: string, b: string): number {
  const [lighter, darker] = [luminance(a), luminance(b)].sort((x, y) => y - x) as [number, number];
  return (lighter + 0.05) / (darker + 0.05);
}

/** Lightness of a colour #rrggbb as people see it, 0 to 1 (the L of the colour space Oklab). */
export function lightness(colour: string): number {
  return toLab(colour)[0];
}

/** Relative luminance of a colour #rrggbb, 0 to 1 (WCAG 2.2). */
function luminance(colour: string): number {
  const [red, green, blue] = toLinear(colour);
  return 0.2126 * red + 0.7152 * green + 0.0722 * blue;
}

function toLinear(colour: string): Triple {
  const channel = (start: number): number => {
    const value = Number.parseInt(colour.slice(start, start + 2), 16) / 255;
    return value <= 0.04045 ? value / 12.92 : ((value + 0.055) / 1.055) ** 2.4;
  };
  return [channel(1), channel(3), channel(5)];
}

/** Into Oklab, in which even steps look even (matrices as published with it, 2020, and in CSS Color 4). */
function toLab(colour: string): Triple {
  const [red, green, blue] = toLinear(colour);
  const l = Math.cbrt(0.4122214708 * red + 0.5363325363 * green + 0.0514459929 * blue);
  const m = Math.cbrt(0.2119034982 * red + 0.6806995451 * green + 0.1073969566 * blue);
  const s = Math.cbrt(0.0883024619 * red + 0.2817188376 * green + 0.6299787005 * blue);
  return [
    0.2104542553 * l + 0.793617785 * m - 0.0040720468 * s,
    1.9779984951 * l - 2.428592205 * m + 0.4505937099 * s,
    0.0259040371 * l + 0.7827717662 * m - 0.808675766 * s,
  ];
}

function fromLab([light, a, b]: Triple): string {
  const l = (light + 0.3963377774 * a + 0.2158037573 * b) ** 3;
  const m = (light - 0.1055613458 * a - 0.0638541728 * b) ** 3;
  const s = (light - 0.0894841775 * a - 1.291485548 * b) ** 3;
  return `#${[
    4.0767416621 * l - 3.3077115913 * m + 0.2309699292 * s,
    -1.2684380046 * l + 2.6097574011 * m - 0.3413193965 * s,
    -0.0041960863 * l - 0.7034186147 * m + 1.707614701 * s,
  ]
    .map((value) => {
      const encoded = value <= 0.0031308 ? 12.92 * value : 1.055 * value ** (1 / 2.4) - 0.055;
      return Math.round(Math.min(1, Math.max(0, encoded)) * 255)
        .toString(16)
        .padStart(2, '0');
    })
    .join('')}`;
}

function mixed(from: Triple, to: Triple, share: number): Triple {
  return [0, 1, 2].map((index) => from[index]! + (to[index]! - from[index]!) * share) as unknown as Triple;
}
