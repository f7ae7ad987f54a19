import { circuitSubject, linearPoints, parseReading, runStudy, sweepStudy } from '#sim/index.ts';
import { expect, test } from 'vitest';
import { plain } from '../../support/circuit-issues.ts';

test('circuitSubject(build) makes studies of circuits that a program builds', () => {
  const subject = circuitSubject((values) => ({
    parts: [
      { name: 'BT1', kind: 'supply', plus: 'rail', minus: 'ground', voltage: '6 V' },
      { name: 'R1', kind: 'resistor', a: 'rail', b: 'lamp', resistance: '470 Ω' },
      { name: 'R2', kind: 'resistor', a: 'lamp', b: 'ground', resistance: values.get('load') },
    ],
  }));
  const plan = {
    axis: { name: 'load', unit: 'Ω', points: linearPoints(-470, 940, 3), scale: 'linear' },
    readings: [parseReading('mean(lamp)')],
    window: { from: 0, until: 1 },
    maxEvents: 1000,
  } as const;
  const { points, marks } = runStudy(sweepStudy(plan, subject));
  // A divider: 6 V R2 / (470 Ω + R2) (closed form); 1e-12 for rounding.
  for (const { x, measured } of points.slice(1)) {
    expect(Math.abs((measured[0]?.value ?? NaN) - (6 * x) / (470 + x))).toBeLessThan(1e-12);
  }
  expect(plain(points[0]?.failed ?? '')).toContain('R2: resistance must be at least 0 Ω');
  // From -470 Ω to 0 Ω there is no circuit: the first that is one is found to 1e-9 of a millionth of the stretch of 470 Ω.
  expect(marks).toHaveLength(1);
  expect(Math.abs(marks[0]!.above.x)).toBeLessThan(4.7e-13);
});
