import fc from 'fast-check';

/** Evenly spread over the powers of ten from `low` to `high`. */
export function spread(low: number, high: number): fc.Arbitrary<number> {
  return fc.double({ min: Math.log10(low), max: Math.log10(high), noNaN: true }).map((power) => 10 ** power);
}

/** From -20 to 20 in steps of a millionth, as voltages are: no number so small that it only tries out underflow. */
export const volts = fc.integer({ min: -20_000_000, max: 20_000_000 }).map((microvolts) => microvolts / 1e6);
