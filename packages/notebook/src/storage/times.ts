/** A time of day, with the date where it is not today, as people of this place write it. */
export function timeWords(time: number, now: number): string {
  const isToday = new Date(time).toDateString() === new Date(now).toDateString();
  const style = isToday
    ? { timeStyle: 'medium' as const }
    : { dateStyle: 'medium' as const, timeStyle: 'short' as const };
  return new Intl.DateTimeFormat(undefined, style).format(time);
}
