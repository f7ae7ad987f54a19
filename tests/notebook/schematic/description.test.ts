import { describeCircuit } from '#notebook/schematic/description.ts';
import { shapesOf, timerShapesOf } from '#notebook/schematic/shape.ts';
import { readyBoards } from '#sim/board/index.ts';
import { expect, test } from 'vitest';
import { partsOf } from './board-parts.ts';

const words = (parts: ReturnType<typeof partsOf>): string => describeCircuit(shapesOf(parts), timerShapesOf(parts)[0]);

test('describeCircuit(shapes, timer) says what every part is, its value and which end lies where', () => {
  const parts = partsOf({
    parts: [
      { name: 'BT1', kind: 'supply', plus: 'rail', minus: 'ground', voltage: '9 V' },
      { name: 'R1', kind: 'resistor', a: 'rail', b: 'base', resistance: '10 kΩ' },
      { name: 'P1', kind: 'pot', a: 'rail', wiper: 'base', b: 'ground', resistance: '10 kΩ' },
      { name: 'Q1', kind: 'transistor', collector: 'foot', base: 'base', emitter: 'ground' },
      { name: 'D1', kind: 'led', a: 'rail', b: 'foot', colour: 'red' },
      { name: 'C1', kind: 'capacitor', a: 'base', b: 'ground', capacitance: '1 µF', polarised: true, rating: '16 V' },
      { name: 'I1', kind: 'source', a: 'rail', b: 'base', current: '1 mA' },
      { name: 'F1', kind: 'finger', a: 'base' },
    ],
  });
  // Spaces between figures and units are narrow.
  expect(words(parts).replaceAll('\u202f', ' ')).toBe(
    'BT1, supply 9 V, plus on rail, minus on ground; R1, resistor 10 kΩ, between rail and base; ' +
      'P1, potentiometer 10 kΩ, between rail and ground, wiper on base; ' +
      'Q1, transistor npn, collector on foot, emitter on ground, base on base; ' +
      'D1, LED red, anode on rail, cathode on foot; C1, capacitor 1 µF, plus on base, minus on ground; ' +
      'I1, current source 1 mA, from rail to base; F1, finger, on base.',
  );
});

test.each([...readyBoards.keys()])(
  'describeCircuit of the ready board %s leaves out no part, no pin and no net',
  (name) => {
    const parts = partsOf({ ready: name });
    const said = words(parts);
    for (const part of parts) {
      expect(said).toContain(`${part.name}, `);
      for (const net of Object.values(part.nets)) expect(said).toMatch(new RegExp(`\\b${net}\\b`));
    }
    const timer = parts.find(({ kind }) => kind === 'timer');
    for (const [pin, net] of Object.entries(timer?.nets ?? {})) expect(said).toContain(`${pin} on ${net}`);
  },
);
