import { labelPlace } from './quantity-axis.ts';
import { fateDrawing, stripePattern } from './fate-drawing.ts';
import { PULSE_STEP, type Region, type RegionStrip } from './region-strips.ts';
import { type Drawing, line, path, rect, type Shape, shape, text } from './shape.ts';
import { MARK_HEIGHT } from './strip-lane.ts';
import { studyPatterns } from './study-patterns.ts';
import type { SweepPanel, SweepScene } from './sweep-scene.ts';

/** How many inks, dashes and shapes there are before they begin again. */
const LOOKS = 6;

/** A sweep without any cursor. */
export function sweepDrawing(scene: SweepScene): Drawing {
  const { left, right, foot, x, panels, strips, rug, jumps, now } = scene;
  const top = strips[0]?.top ?? panels[0]?.top ?? 0;
  return [
    studyPatterns,
    stripePattern,
    ...strips.map((strip) => stripDrawing(strip, scene)),
    ...jumps.map((at) => line('jump', [at, strips.at(-1)?.bottom ?? top], [at, foot])),
    now === undefined ? undefined : line('now-line', [now, panels[0]?.top ?? top], [now, foot]),
    ...panels.map((panel) => panelDrawing(panel, scene)),
    shape('g', { class: 'axis' }, [
      line('axis-tick', [left, foot], [right, foot]),
      ...rug.map((at) => line('rug', [at, foot], [at, foot + 4])),
      ...x.ticks.flatMap(({ at, label }) => [
        line('axis-tick', [at, foot], [at, foot + 6]),
        text(undefined, [labelPlace({ at, label }, right), foot + 20], label, 'middle'),
      ]),
      text(undefined, [right, foot + 38], x.title, 'end'),
    ]),
    now === undefined ? undefined : path('now', `M${now} ${foot}l-6 9h12z`),
  ];
}

/** The shape of a reading at a place, by the position of the reading. @param more further classes. */
export function seriesDot(index: number, x: number, y: number, more = ''): Shape {
  const shapes = [
    `M${x - 3.5} ${y}a3.5 3.5 0 1 0 7 0a3.5 3.5 0 1 0 -7 0z`,
    `M${x - 3.3} ${y - 3.3}h6.6v6.6h-6.6z`,
    `M${x} ${y - 4.2}l4 7h-8z`,
    `M${x} ${y - 4.6}l4.6 4.6l-4.6 4.6l-4.6 -4.6z`,
    `M${x} ${y + 4.2}l4 -7h-8z`,
    `M${x - 4} ${y - 1.4}h8v2.8h-8z`,
  ];
  return path(`dot ${look(index)} ${more}`.trim(), shapes[index % LOOKS] ?? '');
}

function look(index: number): string {
  return `look-${index % LOOKS}`;
}

/** The look of a reading as it stands beside its name: its line with its shape. */
function lineSample(index: number, x: number, y: number): Shape[] {
  return [line(`series ${look(index)}`, [x, y], [x + 26, y]), seriesDot(index, x + 13, y)];
}

function panelDrawing(panel: SweepPanel, { left, right, narrow }: SweepScene): Shape {
  const { top, bottom, axis, lines, rules, unitWords } = panel;
  let across = 40;
  const series = lines.flatMap(({ name, index, path: course, bridges, dots }, place) => {
    const nameX = narrow ? across : 0;
    const nameY = narrow ? top - 9 : top + 12 + place * 36;
    across += name.length * 8 + 52;
    return [
      path(`series ${look(index)} bridge`, bridges),
      path(`series ${look(index)}`, course),
      ...dots.map(({ x, y }) => seriesDot(index, x, y)),
      ...(narrow
        ? [...lineSample(index, nameX - 38, nameY - 4), text('name', [nameX - 6, nameY], name)]
        : [text('name', [0, nameY], name), ...lineSample(index, 0, nameY + 11)]),
    ];
  });
  return shape('g', {}, [
    line('foot', [left, bottom], [right, bottom]),
    ...axis.ticks.flatMap(({ at, label }) => [
      line('axis-tick', [left - 4, at], [left, at]),
      text('unit', [left - 7, at + 4], label, 'end'),
    ]),
    ...series,
    ...rules.map((rule) => path('rule', rule.path)),
    ...rules.map((rule) => rule.at && text('rule-name', [rule.at.x, rule.at.y], rule.text, 'end')),
    unitWords === ''
      ? undefined
      : narrow
        ? text('unit', [right, top - 9], unitWords, 'end')
        : text('unit', [0, top + 20 + lines.length * 36], unitWords),
  ]);
}

function stripDrawing(strip: RegionStrip, { narrow, left }: SweepScene): Shape {
  const { name, kind, regions, top, bottom } = strip;
  const title = kind === 'fates' ? `pulses at ${name}` : name;
  const place = [narrow ? left : 0, narrow ? top - 6 : (top + bottom) / 2 + 4.5] as const;
  return shape('g', {}, [
    text(kind === 'ratio' ? 'name' : 'unit', place, title),
    ...regions.flatMap((region, index) => regionDrawing(region, index, strip)),
  ]);
}

function regionDrawing(region: Region, index: number, { top, bottom }: RegionStrip): Drawing {
  const { from, until, isUneven, hasRoom } = region;
  const ground = isUneven ? ' uneven' : index % 2 === 0 ? '' : ' other';
  const width = Math.max(0.5, until - from);
  return [
    rect(`region${ground}`, { x: from, y: top, width, height: bottom - top }),
    ...(hasRoom && !isUneven ? regionContent(region, top, bottom) : []),
  ];
}

/** What stands in a region: its ratio, or its pulses in their order. */
function regionContent({ from, until, text: words, pulses }: Region, top: number, bottom: number): Drawing {
  const middle = (from + until) / 2;
  if (pulses === undefined) return [text('region-text', [middle, (top + bottom) / 2 + 4.5], words)];
  const start = middle - (pulses.length * PULSE_STEP) / 2 + 1.5;
  return pulses.flatMap((fate, place) =>
    fateDrawing(
      { fate, x: start + place * PULSE_STEP, width: 6, count: 1, first: 0 },
      (top + bottom - MARK_HEIGHT) / 2,
    ),
  );
}
