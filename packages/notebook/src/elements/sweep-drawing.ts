import { css, nothing, svg, type SVGTemplateResult } from 'lit';
import { type Region, PULSE_STEP, type RegionStrip } from '../chart/region-strips.ts';
import type { SweepPanel, SweepScene, SweepStop } from '../chart/sweep-scene.ts';
import { MARK_HEIGHT } from '../chart/strip-lane.ts';
import { fateMark, stripePattern } from './fate-glyphs.ts';
import { studyPatterns } from './map-drawing.ts';

/** How many inks, dashes and shapes there are before they begin again. */
const LOOKS = 6;

/** Lines, marks and strips of a sweep; every ink has a dash and a shape of its own. */
export const sweepStyles = css`
  .series {
    fill: none;
    stroke-width: 1.8;
    stroke-linejoin: round;
  }
  .look-0 {
    stroke: var(--slate);
  }
  .look-1 {
    stroke: var(--rust);
    stroke-dasharray: 7 4;
  }
  .look-2 {
    stroke: var(--teal);
    stroke-dasharray: 2 3.5;
  }
  .look-3 {
    stroke: var(--plum);
    stroke-dasharray: 11 3 2 3;
  }
  .look-4 {
    stroke: var(--moss);
    stroke-dasharray: 4 2;
  }
  .look-5 {
    stroke: var(--gold);
    stroke-dasharray: 14 5;
  }
  .bridge {
    stroke-width: 1;
    stroke-dasharray: none;
    opacity: 0.55;
  }
  .dot {
    stroke-dasharray: none;
    stroke-width: 1.6;
    fill: var(--ground);
  }
  .dot.pointed {
    stroke-width: 2.6;
  }
  .foot {
    stroke: var(--line);
    stroke-width: 1.5;
  }
  .jump {
    stroke: var(--edge);
    stroke-dasharray: 1.5 3.5;
    stroke-linecap: round;
    stroke-width: 1.3;
  }
  .region {
    stroke: var(--edge);
    fill: var(--panel);
  }
  .region.other {
    fill: var(--raised);
  }
  .region.uneven {
    fill: url(#uneven);
    stroke: var(--rust);
  }
  .region-text {
    fill: var(--ink);
    font-weight: 600;
    text-anchor: middle;
  }
`;

/** A sweep without its cursor. */
export function sweepDrawing(scene: SweepScene): SVGTemplateResult {
  const { left, right, foot, x, panels, strips, rug, jumps, now, narrow } = scene;
  const top = strips[0]?.top ?? panels[0]?.top ?? 0;
  return svg`${studyPatterns} ${stripePattern}
    ${strips.map((strip) => stripDrawing(strip, scene))}
    ${jumps.map((at) => svg`<line class="jump" x1=${at} x2=${at} y1=${strips.at(-1)?.bottom ?? top} y2=${foot} />`)}
    ${now === undefined ? nothing : svg`<line class="now-line" x1=${now} x2=${now} y1=${panels[0]?.top ?? top} y2=${foot} />`}
    ${panels.map((panel) => panelDrawing(panel, scene))}
    <g class="axis">
      <line class="axis-tick" x1=${left} x2=${right} y1=${foot} y2=${foot} />
      ${rug.map((at) => svg`<line class="rug" x1=${at} x2=${at} y1=${foot} y2=${foot + 4} />`)}
      ${x.ticks.map(
        ({ at, label }) => svg`<line class="axis-tick" x1=${at} x2=${at} y1=${foot} y2=${foot + 6} />
          <text x=${Math.min(at, right - (narrow ? 8 : 0))} y=${foot + 20} text-anchor="middle">${label}</text>`,
      )}
      <text x=${right} y=${foot + 38} text-anchor="end">${x.title}</text>
    </g>
    ${now === undefined ? nothing : svg`<path class="now" d=${`M${now} ${foot}l-6 9h12z`} />`}`;
}

/** The cursor at a stop: a line, and the shape of every reading where it is. */
export function sweepCursor(scene: SweepScene, stop: SweepStop | undefined): SVGTemplateResult | typeof nothing {
  if (stop === undefined) return nothing;
  const x = scene.x.scale(stop.x);
  const top = scene.strips[0]?.top ?? scene.panels[0]?.top ?? 0;
  return svg`<line class="cursor" x1=${x} x2=${x} y1=${top - 3} y2=${scene.foot + 6} />
    ${scene.panels.map(({ lines, axis }) =>
      lines.map(({ index }) => {
        const value = stop.values[index] ?? null;
        return value === null ? nothing : dot(index, x, axis.scale(value), 'pointed');
      }),
    )}`;
}

/** The look of a reading as it stands in legends: its line with its shape. */
function lineSample(index: number, x: number, y: number): SVGTemplateResult {
  return svg`<line class="series ${look(index)}" x1=${x} x2=${x + 26} y1=${y} y2=${y} />${dot(index, x + 13, y)}`;
}

function look(index: number): string {
  return `look-${index % LOOKS}`;
}

function dot(index: number, x: number, y: number, more = ''): SVGTemplateResult {
  const shapes = [
    `M${x - 3.5} ${y}a3.5 3.5 0 1 0 7 0a3.5 3.5 0 1 0 -7 0z`,
    `M${x - 3.3} ${y - 3.3}h6.6v6.6h-6.6z`,
    `M${x} ${y - 4.2}l4 7h-8z`,
    `M${x} ${y - 4.6}l4.6 4.6l-4.6 4.6l-4.6 -4.6z`,
    `M${x} ${y + 4.2}l4 -7h-8z`,
    `M${x - 4} ${y - 1.4}h8v2.8h-8z`,
  ];
  return svg`<path class="dot ${look(index)} ${more}" d=${shapes[index % LOOKS]} />`;
}

function panelDrawing(panel: SweepPanel, { left, right, narrow }: SweepScene): SVGTemplateResult {
  const { top, bottom, axis, lines, unitWords } = panel;
  let across = 40;
  return svg`<g>
    <line class="foot" x1=${left} x2=${right} y1=${bottom} y2=${bottom} />
    ${axis.ticks.map(
      ({ at, label }) => svg`<line class="axis-tick" x1=${left - 4} x2=${left} y1=${at} y2=${at} />
        <text class="unit" x=${left - 7} y=${at + 4} text-anchor="end">${label}</text>`,
    )}
    ${lines.map(({ name, index, path, bridges, dots }, place) => {
      const nameX = narrow ? across : 0;
      const nameY = narrow ? top - 9 : top + 12 + place * 36;
      across += name.length * 8 + 52;
      return svg`<path class="series ${look(index)} bridge" d=${bridges} />
        <path class="series ${look(index)}" d=${path} />
        ${dots.map(({ x, y }) => dot(index, x, y))}
        ${
          narrow
            ? svg`${lineSample(index, nameX - 38, nameY - 4)}<text class="name" x=${nameX - 6} y=${nameY}>${name}</text>`
            : svg`<text class="name" x="0" y=${nameY}>${name}</text>${lineSample(index, 0, nameY + 11)}`
        }`;
    })}
    ${
      unitWords === ''
        ? nothing
        : narrow
          ? svg`<text class="unit" x=${right} y=${top - 9} text-anchor="end">${unitWords}</text>`
          : svg`<text class="unit" x="0" y=${top + 20 + lines.length * 36}>${unitWords}</text>`
    }
  </g>`;
}

function stripDrawing(strip: RegionStrip, { narrow, left }: SweepScene): SVGTemplateResult {
  const { name, kind, regions, top, bottom } = strip;
  const title = kind === 'fates' ? `pulses at ${name}` : name;
  return svg`<g>
    <text class=${kind === 'ratio' ? 'name' : 'unit'} x=${narrow ? left : 0} y=${narrow ? top - 6 : (top + bottom) / 2 + 4.5}>${title}</text>
    ${regions.map((region, index) => regionDrawing(region, index, strip))}
  </g>`;
}

function regionDrawing(region: Region, index: number, { top, bottom }: RegionStrip): SVGTemplateResult {
  const { from, until, text, isUneven, pulses, hasRoom } = region;
  const middle = (from + until) / 2;
  const ground = isUneven ? 'uneven' : index % 2 === 0 ? '' : 'other';
  return svg`<rect class="region ${ground}" x=${from} y=${top} width=${Math.max(0.5, until - from)} height=${bottom - top} />
    ${
      !hasRoom || isUneven
        ? nothing
        : pulses === undefined
          ? svg`<text class="region-text" x=${middle} y=${(top + bottom) / 2 + 4.5}>${text}</text>`
          : pulses.map((fate, place) =>
              fateMark(
                {
                  fate,
                  x: middle - (pulses.length * PULSE_STEP) / 2 + place * PULSE_STEP + 1.5,
                  width: 6,
                  count: 1,
                  first: 0,
                },
                (top + bottom - MARK_HEIGHT) / 2,
              ),
            )
    }`;
}
