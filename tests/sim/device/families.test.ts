import published from '#shared/timer-families.json' with { type: 'json' };
import { documentsNamed, familyDocuments } from '#sim/device/family-documents.ts';
import { timerFamilies, timerParameters } from '#sim/device/families.ts';
import { familyTable } from '#sim/device/family-table.ts';
import { parameterUnits } from '#sim/device/read-parameters.ts';
import type { TimerFamily } from '#sim/device/timer-parameters.ts';
import { describe, expect, test } from 'vitest';

/** The table as shared data hold it: JSON has no infinity. */
const asShared: unknown = JSON.parse(
  JSON.stringify(familyTable, (_, value: unknown) => (value === Infinity ? 'unlimited' : value)),
);

test('the library holds the same families as the shared table', () => {
  expect(asShared).toEqual(published.families);
  expect(published.units).toEqual({ ...parameterUnits, outputOneWay: 'true or false' });
});

describe('familyTable', () => {
  test('has the families in the order they are offered', () => {
    expect(timerFamilies).toEqual(['ideal', 'bipolar', 'cmos']);
  });

  test.each(timerFamilies)('%s has every parameter, inside its published range, with a source', (family) => {
    const names = [...Object.keys(parameterUnits), 'outputOneWay'].sort();
    expect(Object.keys(familyTable[family]).sort()).toEqual(names);
    for (const [name, { nominal, least, greatest, source }] of Object.entries(familyTable[family])) {
      expect(source, name).not.toBe('');
      if (typeof nominal === 'boolean') continue;
      expect(nominal, name).toBeGreaterThanOrEqual(least ?? 0);
      expect(nominal, name).toBeLessThanOrEqual(greatest ?? Infinity);
    }
  });

  test('documents have the titles that are published with the families', () => {
    expect(familyDocuments).toEqual(published.documents);
    expect(documentsNamed(['ICM p. 8-172, 100 kΩ ± 20 %', 'TS p. 6, at 5 V', 'from memory'])).toEqual([
      `ICM: ${published.documents.ICM}`,
      `TS: ${published.documents.TS}`,
    ]);
    expect(documentsNamed([])).toEqual([]);
  });

  test('every document a source names is listed with its title', () => {
    const keys = Object.keys(published.documents);
    const sources = Object.values(familyTable).flatMap((table) => Object.values(table).map(({ source }) => source));
    for (const source of sources) {
      if (/^(by definition|from memory|common practice, no source)/.test(source)) continue;
      expect(
        keys.filter((key) => new RegExp(`\\b${key}\\b`).test(source)),
        source,
      ).not.toEqual([]);
    }
  });

  // Published rows that the derived drops and resistances must give back. Tolerance 25 mV: resistances are rounded to
  // whole ohms and drops to 10 mV, and rows of different supplies lie that far off one line.
  test.each(published.published)('$family: $what at $current A is $voltage V ($source)', (row) => {
    const family = timerParameters(row.family as TimerFamily);
    const models: Record<string, [drop: number, resistance: number]> = {
      'output high, below the supply': [family.outputHighDrop, family.outputHighResistance],
      'output low': [family.outputLowSaturation, family.outputLowResistance],
      discharge: [family.dischargeSaturation, family.dischargeResistance],
    };
    const [drop, resistance] = models[row.what] ?? [Number.NaN, Number.NaN];
    expect(Math.abs(drop + resistance * row.current - row.voltage)).toBeLessThan(0.025);
  });

  test('agrees with rows that were copied unchanged', () => {
    const { bipolar, cmos, ideal } = familyTable;
    // Bipolar: TI-A p. 4.
    expect(bipolar.thresholdCurrent).toMatchObject({ nominal: 30e-9, greatest: 250e-9 });
    expect(bipolar.triggerCurrent).toMatchObject({ nominal: 0.5e-6, greatest: 2e-6 });
    expect(bipolar.resetLevel).toMatchObject({ nominal: 0.7, least: 0.3, greatest: 1 });
    expect(bipolar.dischargeLeakage).toMatchObject({ nominal: 20e-9, greatest: 100e-9 });
    // TI-92 p. 5: 0.4 mA out of RESET at 0 V, at most 1.5 mA.
    expect(bipolar.resetCurrent).toMatchObject({ nominal: 0.4e-3, greatest: 1.5e-3 });
    // TI-F p. 4 and ST p. 3: 4.5 V to 16 V, 200 mA.
    expect([bipolar.supplyMinimum.nominal, bipolar.supplyMaximum.nominal]).toEqual([4.5, 16]);
    expect(bipolar.outputMaximum.nominal).toBe(0.2);
    // ON p. 1: three resistors of 5 kΩ.
    expect(bipolar.dividerResistance.nominal).toBe(5000);
    // ICM p. 8-172: three resistors of 100 kΩ within 20 %.
    expect(cmos.dividerResistance).toMatchObject({ nominal: 100e3, least: 80e3, greatest: 120e3 });
    // TLC p. 8: 10 pA at the inputs, 0.4 V / 1.1 V / 1.5 V at RESET, 170 µA (350 µA) at 5 V, 2 V to 15 V.
    expect([cmos.thresholdCurrent, cmos.triggerCurrent, cmos.resetCurrent].map(({ nominal }) => nominal)).toEqual([
      10e-12, 10e-12, 10e-12,
    ]);
    expect(cmos.resetLevel).toMatchObject({ nominal: 1.1, least: 0.4, greatest: 1.5 });
    expect(cmos.supplyCurrentLow).toMatchObject({ nominal: 170e-6, greatest: 350e-6 });
    expect([cmos.supplyMinimum.nominal, cmos.supplyMaximum.nominal]).toEqual([2, 15]);
    // LMC p. 4: 100 ns from trigger to output.
    expect(cmos.delay.nominal).toBe(100e-9);
    // Definition of the ideal family: 5 kΩ divider, reset at 0.7 V, nothing else but limits that are absent.
    const acting = Object.entries(ideal).filter(([, { nominal }]) => nominal !== 0 && nominal !== Infinity);
    expect(acting.map(([name, { nominal }]) => [name, nominal])).toEqual([
      ['dividerResistance', 5000],
      ['resetLevel', 0.7],
      ['outputOneWay', false],
      // Behind junctions that an ideal timer does not have, and for a charge that it does not draw.
      ['clampResistance', 10],
      ['transitionTime', 150e-9],
    ]);
  });

  test('derives the bipolar discharge switch from its two rows exactly', () => {
    // ST table 3, p. 5: 80 mV at 4.5 mA and 180 mV at 15 mA; a line through two points, rounded to two digits.
    const resistance = (0.18 - 0.08) / (0.015 - 0.0045);
    const saturation = 0.08 - resistance * 0.0045;
    expect(Number(resistance.toPrecision(2))).toBe(familyTable.bipolar.dischargeResistance.nominal);
    expect(Number(saturation.toPrecision(2))).toBe(familyTable.bipolar.dischargeSaturation.nominal);
  });
});

test('timerParameters(family, changes) puts the changes in place of the nominal values', () => {
  const parameters = timerParameters('cmos', { delay: 0, outputOneWay: true });
  expect(parameters).toEqual({ ...timerParameters('cmos'), delay: 0, outputOneWay: true });
  expect(parameters.dividerResistance).toBe(100e3);
});
