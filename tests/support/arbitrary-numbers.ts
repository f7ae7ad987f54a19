import fc from 'fast-check';

/** Steps between the ends of a spread. */
const STEPS = 2 ** 30;

/** Evenly spread over the powers of ten from `low` to `high` (numbers of fast-check itself crowd around 0). */
export function spread(low: number, high: number): fc.Arbitrary<number> {
  const decades = Math.log10(high / low);
  return fc.noBias(fc.integer({ min: 0, max: STEPS })).map((step) => low * 10 ** ((step / STEPS) * decades));
}

/** From -20 to 20 in steps of a millionth, as voltages are: no number so small that it only tries out underflow. */
export const volts = fc.integer({ min: -20_000_000, max: 20_000_000 }).map((microvolts) => microvolts / 1e6);
