import { pixel } from '@two-thirds/sim/chart';

/** Points to one charge or discharge. */
const POINTS = 12;

/** A capacitor that swings between one third and two thirds of the supply, and where it charges; in pixels. */
export interface ChargingCurve {
  readonly path: string;
  readonly charging: readonly { readonly x: number; readonly width: number }[];
  readonly upper: number;
  readonly lower: number;
}

/**
 * The voltage of a capacitor that charges towards the supply up to two thirds of it and empties towards 0 V down to one
 * third, both through the same resistor: `1 - 2/3 exp(-t)` and `2/3 exp(-t)` with t in units of R C, each for ln 2.
 *
 * @param height pixels from the supply at the top to 0 V.
 * @param swings how many times it charges; the last charge is not followed by a discharge.
 */
export function chargingCurve(width: number, height: number, swings: number): ChargingCurve {
  const step = width / (2 * swings - 1);
  const y = (share: number): number => pixel(height * (1 - share));
  const points: string[] = [];
  for (let half = 0; half < 2 * swings - 1; half += 1) {
    for (let index = 0; index <= POINTS; index += 1) {
      const decay = (2 / 3) * Math.exp((-Math.LN2 * index) / POINTS);
      const share = half % 2 === 0 ? 1 - decay : decay;
      points.push(`${pixel((half + index / POINTS) * step)} ${y(share)}`);
    }
  }
  const charging = Array.from({ length: swings }, (_, index) => ({ x: pixel(2 * index * step), width: pixel(step) }));
  return { path: `M${points.join('L')}`, charging, upper: y(2 / 3), lower: y(1 / 3) };
}
