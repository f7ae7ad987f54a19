import type { Shape, TimerShape } from './shape.ts';

/** What the ends of a part are called where it matters which is which, and the end at its side. */
const endNames: Readonly<Record<string, readonly [string, string]>> = {
  supply: ['plus', 'minus'],
  signal: ['plus', 'minus'],
  led: ['anode', 'cathode'],
  diode: ['anode', 'cathode'],
  buzzer: ['plus', 'minus'],
  transistor: ['collector', 'emitter'],
  'transistor pnp': ['collector', 'emitter'],
};
const polarisedEnds: readonly [string, string] = ['plus', 'minus'];

/** A circuit in words, for those who cannot see the drawing: the timer with its pins, every part with its nets. */
export function describeCircuit(shapes: readonly Shape[], timer: TimerShape | undefined): string {
  const pins = Object.entries(timer?.pins ?? {}).map(([pin, net]) => `${pin} on ${net}`);
  const box = timer === undefined ? [] : [`${timer.name}, timer${inWords(timer.family)}, ${pins.join(', ')}`];
  return `${[...box, ...shapes.map(describePart)].join('; ')}.`;
}

function describePart(shape: Shape): string {
  const { name, label, kind, title, value, side } = shape;
  const third = side === undefined ? '' : `, ${sideName(kind)} on ${side}`;
  return `${label ?? name}, ${title}${inWords(value)}, ${endsInWords(shape)}${third}`;
}

function endsInWords({ kind, ends: [first, second], polarised }: Shape): string {
  if (second === undefined) return `on ${first}`;
  const names = endNames[kind] ?? (polarised ? polarisedEnds : undefined);
  if (names !== undefined) return `${names[0]} on ${first}, ${names[1]} on ${second}`;
  if (first === second) return `both ends on ${first}`;
  return kind === 'source' ? `from ${first} to ${second}` : `between ${first} and ${second}`;
}

function inWords(value: string): string {
  return value === '' ? '' : ` ${value}`;
}

function sideName(kind: string): string {
  if (kind.startsWith('relay')) return 'its end that is closed at rest';
  return kind.startsWith('transistor') ? 'base' : 'wiper';
}
