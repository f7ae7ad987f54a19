import { formatQuantity, type Unit } from '../quantity/index.ts';

/** Digits of an instant on a page: enough to tell edges apart, few enough to read. */
const TIME_DIGITS = 4;

/** Digits of a stretch between two instants at least, and the most that an instant gets for it: what a double is good for. */
const STRETCH_DIGITS = 1;
const MOST_DIGITS = 15;

/** An end of a range this much smaller than the other (share of it) is nothing that an instrument on that range shows. */
const UNSEEN = 1e-5;

/** An instant or a time that somebody gave, with up to four digits and none of them padding: `6 s`, `615.2 ms`. */
export function timeText(time: number): string {
  return exactTime(time, TIME_DIGITS);
}

/** From one instant to a later one, both with as many digits as their distance needs: `4 s to 4.00037 s`. */
export function stretchText(from: number, until: number): string {
  const orders = until === from ? 0 : Math.ceil(Math.log10(Math.abs(until / (until - from))));
  const digits = Math.min(Math.max(TIME_DIGITS, orders + STRETCH_DIGITS), MOST_DIGITS);
  return `${exactTime(from, digits)} to ${exactTime(until, digits)}`;
}

function exactTime(time: number, digits: number): string {
  return formatQuantity(Number(time.toPrecision(digits)), 's', { exact: true });
}

/** From the lowest to the highest value of a signal: `0 V to 8.00 V`. */
export function rangeText(low: number, high: number, unit: Unit): string {
  const size = Math.max(Math.abs(low), Math.abs(high));
  const [from = '', to = ''] = [low, high].map((end) => formatQuantity(Math.abs(end) < UNSEEN * size ? 0 : end, unit));
  return from === to ? from : `${from} to ${to}`;
}
