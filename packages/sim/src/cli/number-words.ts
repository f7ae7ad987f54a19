import { formatQuantity, type Unit } from '../quantity/index.ts';

/** Digits of an instant on a page: enough to tell edges apart, few enough to read. */
const TIME_DIGITS = 4;

/** An end of a range this much smaller than the other (share of it) is nothing that an instrument on that range shows. */
const UNSEEN = 1e-5;

/** An instant or a time that somebody gave, with up to four digits and none of them padding: `6 s`, `615.2 ms`. */
export function timeText(time: number): string {
  return formatQuantity(Number(time.toPrecision(TIME_DIGITS)), 's', { exact: true });
}

/** From the lowest to the highest value of a signal: `0 V to 8.00 V`. */
export function rangeText(low: number, high: number, unit: Unit): string {
  const size = Math.max(Math.abs(low), Math.abs(high));
  const [from = '', to = ''] = [low, high].map((end) => formatQuantity(Math.abs(end) < UNSEEN * size ? 0 : end, unit));
  return from === to ? from : `${from} to ${to}`;
}
