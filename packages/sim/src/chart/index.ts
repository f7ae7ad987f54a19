/**
 * Charts of results as plain data: a scene is a result laid out for a width in pixels, a drawing the elements it is drawn
 * with. Looks are classes with a style sheet, so that pages and files of their own dress the same drawing. Nothing here
 * needs a browser.
 */
export { laneTitle } from './analog-lane.ts';
export { type Bar, barsOf } from './bars.ts';
export { captureDrawing } from './capture-drawing.ts';
export { type CaptureScene, captureScene, nearestSample } from './capture-scene.ts';
export { cellSvg, mapSvg } from './cell-svg.ts';
export { claimDrawing } from './claim-drawing.ts';
export { claimLegend } from './claim-picture.ts';
export { claimScene } from './claim-scene.ts';
export { envelopePath } from './envelope.ts';
export { fateDrawing, stripePattern } from './fate-drawing.ts';
export { fates, fateWords } from './fate-marks.ts';
export { highSpans } from './high-spans.ts';
export { histogramScene } from './histogram.ts';
export {
  captureLook,
  claimLook,
  fateLook,
  type Ink,
  type Look,
  mapLook,
  patternLook,
  rampLook,
  spreadLook,
  studyLook,
  sweepLook,
  traceLook,
} from './look.ts';
export { fillOf, mapDrawing, nowRing, rampBar } from './map-drawing.ts';
export { FORMER_BOUNDARIES } from './map-picture.ts';
export { type MapScene, mapScene, nearestPoint, nowPlace } from './map-scene.ts';
export { pointText } from './point-text.ts';
export { linearScale, pixel, type Scale } from './scale.ts';
export { boxes, type Drawing, type Shape } from './shape.ts';
export { histogramDrawing } from './spread-drawing.ts';
export { MARK_HEIGHT, type StripLane } from './strip-lane.ts';
export { studyPatterns } from './study-patterns.ts';
export { seriesDot, sweepDrawing } from './sweep-drawing.ts';
export { nearestStop, type SweepScene, sweepScene, type SweepStop } from './sweep-scene.ts';
export { laneDrawing, laneName, plotClip, timeAxisDrawing } from './trace-drawing.ts';
export { type Scene, traceScene } from './trace-scene.ts';
export type { Window } from './window.ts';
