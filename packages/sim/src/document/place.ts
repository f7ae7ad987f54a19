/** Longest piece of a name that a place shows (characters). */
const SHOWN_LENGTH = 40;

/**
 * A place one step further in: `boards` and `counter` make `boards.counter`, `page` and 2 make `page[2]`; a step that
 * is no plain name is quoted, `boards["my board"]`.
 */
export function placeInside(place: string, step: string | number): string {
  if (typeof step === 'number') return `${place}[${step}]`;
  if (!/^[A-Za-z_]\w*$/.test(step)) return `${place}[${JSON.stringify(step.slice(0, SHOWN_LENGTH))}]`;
  return place === '' ? step : `${place}.${step}`;
}
