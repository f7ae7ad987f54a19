import type { Shape, TimerShape } from './shape.ts';

/** A circuit in words, for those who cannot see the drawing: every part with the nets it lies between. */
export function describeCircuit(shapes: readonly Shape[], timer: TimerShape | undefined): string {
  const parts = shapes.map((shape) => {
    const [a, b] = shape.ends;
    const between = b === undefined ? `on ${a}` : `between ${a} and ${b}`;
    const third =
      shape.side === undefined ? '' : `, ${shape.kind.startsWith('transistor') ? 'base' : 'wiper'} on ${shape.side}`;
    return `${shape.label === undefined ? `${shape.name}, ` : ''}${shape.title}${shape.value === '' ? '' : ` ${shape.value}`}, ${between}${third}`;
  });
  const pins = Object.entries(timer?.pins ?? {}).map(([pin, net]) => `${pin} on ${net}`);
  const box = timer === undefined ? [] : [`${timer.name}, timer, ${pins.join(', ')}`];
  return `${[...box, ...parts].join('; ')}.`;
}
