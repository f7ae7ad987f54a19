import type { PlacedSymbol } from '#notebook/schematic/drawing.ts';
import { netPlaces, partPlaces } from '#notebook/schematic/part-places.ts';
import { expect, test } from 'vitest';

const resistor: PlacedSymbol = {
  part: 'R1',
  kind: 'resistor',
  title: 'resistor',
  value: '390 kΩ',
  x: 100,
  y: 100,
  first: 'up',
  textOn: 'right',
  polarised: false,
};

test('a part reaches as far as its texts do, on the side they stand', () => {
  const [right] = partPlaces({ symbols: [resistor], box: undefined, width: 400 });
  const [left] = partPlaces({ symbols: [{ ...resistor, textOn: 'left' }], box: undefined, width: 400 });
  // Half a resistor is 13 pixels wide, and texts begin 18 from its middle.
  expect(right?.from).toBeCloseTo(87 / 400, 9);
  expect(right?.to).toBeGreaterThan(150 / 400);
  expect(left?.from).toBeLessThan(50 / 400);
  expect(left?.to).toBeCloseTo(113 / 400, 9);
});

test('the timer comes first, and a jumper to another board has its label', () => {
  const box = { part: 'U1', family: 'bipolar', x: 200, y: 0, width: 120, height: 200, pins: [], nameY: 100 };
  const places = partPlaces({ symbols: [{ ...resistor, label: 'link 1' }], box, width: 400 });
  expect(places.map(({ part }) => part)).toEqual(['U1', 'link 1']);
  expect(places[0]).toEqual({ part: 'U1', from: 0.5, to: 0.8 });
});

test('a net reaches as far as its name and a voltage do, on the side to which they are written', () => {
  const at = (anchor: 'start' | 'end') => ({ x: 300, y: 40, anchor });
  const place = (anchor: 'start' | 'end') =>
    netPlaces({ names: [{ net: 'out', ...at(anchor), voltage: at(anchor) }], width: 400 })[0];
  expect(place('start')).toMatchObject({ part: 'out', from: 300 / 400 });
  expect(place('end')).toMatchObject({ part: 'out', to: 300 / 400 });
  // Eight letters of six pixels or so.
  expect(place('start')?.to).toBeGreaterThan(340 / 400);
  expect(place('end')?.from).toBeLessThan(260 / 400);
  const last = { x: 395, y: 40, anchor: 'start' } as const;
  expect(netPlaces({ names: [{ net: 'out', ...last, voltage: last }], width: 400 })[0]?.to).toBe(1);
});
