/**
 * A page with a run that never repeats itself to the last bit, so that all of it has to be gone through: axles come by every
 * 150 ms on one track and every 110 ms on the other, and neither is a binary number.
 */
export const twoTracks = {
  format: 'two-thirds',
  version: 1,
  title: 'Two tracks',
  boards: { coaches: track('150 ms'), wagons: track('110 ms') },
  links: [{ a: 'coaches.out', b: 'wagons.out', closed: false }],
  page: [{ id: 'look', kind: 'trace', board: 'coaches', until: '2 s', show: ['in', 'timing', 'out'] }],
};

function track(period: string): object {
  return { ready: 'frequency divider', values: { 'G1.wave.period': period } };
}
