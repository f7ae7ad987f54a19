/** Making one takes longer than all else in telling a time. */
const formats = new Map<boolean, Intl.DateTimeFormat>();

/** A time of day, with the date where it is not today, as people of this place write it. */
export function timeWords(time: number, now: number): string {
  const isToday = new Date(time).toDateString() === new Date(now).toDateString();
  const format =
    formats.get(isToday) ??
    new Intl.DateTimeFormat(undefined, isToday ? { timeStyle: 'medium' } : { dateStyle: 'medium', timeStyle: 'short' });
  formats.set(isToday, format);
  return format.format(time);
}
