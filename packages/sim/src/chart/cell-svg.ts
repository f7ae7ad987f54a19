import type { CellResult, MapResult } from '../document/index.ts';
import { capturePicture } from './capture-picture.ts';
import { claimPicture } from './claim-picture.ts';
import { mapPicture } from './map-picture.ts';
import type { MapScene } from './map-scene.ts';
import { spreadPicture } from './spread-picture.ts';
import { type Picture, svgFile } from './svg-file.ts';
import { sweepPicture } from './sweep-picture.ts';
import { choosePicture, swapsPicture, symptomsPicture } from './table-pictures.ts';
import { tracePicture } from './trace-picture.ts';

/** Width of a drawing in a file of its own (pixels): wide enough for names beside the lanes. */
const WIDTH = 920;

/**
 * The chart of a cell as the text of an SVG file; undefined for kinds that are no charts (notes, readings), and where there
 * is nothing to draw. A cell that was stopped has the chart of what it computed before.
 */
export function cellSvg(result: CellResult): string | undefined {
  if (!result.ok) return result.partial === undefined ? undefined : cellSvg(result.partial);
  const picture = pictureOf(result);
  return picture === undefined ? undefined : svgFile(picture);
}

/**
 * A map as an SVG file, with boundaries that it had before; undefined where there are no two points along each axis.
 *
 * @param formerOf where they were, as path data, in the scene it is given.
 */
export function mapSvg(result: MapResult, formerOf: (scene: MapScene) => readonly string[]): string | undefined {
  const picture = mapPicture(result, WIDTH, formerOf);
  return picture === undefined ? undefined : svgFile(picture);
}

function pictureOf(result: Extract<CellResult, { ok: true }>): Picture | undefined {
  switch (result.kind) {
    case 'trace':
      return tracePicture(result, WIDTH);
    case 'sweep':
      return sweepPicture(result, WIDTH);
    case 'map':
      return mapPicture(result, WIDTH);
    case 'spread':
      return spreadPicture(result, WIDTH);
    case 'claim':
      return claimPicture(result, WIDTH);
    case 'capture':
      return capturePicture(result, WIDTH);
    case 'choose':
      return choosePicture(result, WIDTH);
    case 'swaps':
      return swapsPicture(result, WIDTH);
    case 'symptoms':
      return symptomsPicture(result, WIDTH);
    default:
      return undefined;
  }
}
