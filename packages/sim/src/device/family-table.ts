import type { FamilyTable, TimerFamily } from './timer-parameters.ts';

// Documents named below: see family-documents.ts.

const byDefinition = 'by definition: an ideal timer has none';
const unlimited = 'by definition: an ideal timer has no limit';

const ideal: FamilyTable = {
  dividerResistance: { nominal: 5e3, source: 'by definition, as in the bipolar family' },
  thresholdCurrent: { nominal: 0, source: byDefinition },
  triggerCurrent: { nominal: 0, source: byDefinition },
  resetCurrent: { nominal: 0, source: byDefinition },
  resetLevel: { nominal: 0.7, source: 'by definition, as in the bipolar family' },
  outputHighDrop: { nominal: 0, source: byDefinition },
  outputHighResistance: { nominal: 0, source: byDefinition },
  outputLowSaturation: { nominal: 0, source: byDefinition },
  outputLowResistance: { nominal: 0, source: byDefinition },
  outputOneWay: { nominal: false, source: 'by definition' },
  dischargeSaturation: { nominal: 0, source: byDefinition },
  dischargeResistance: { nominal: 0, source: byDefinition },
  dischargeCurrent: { nominal: Number.POSITIVE_INFINITY, source: unlimited },
  dischargeLeakage: { nominal: 0, source: byDefinition },
  clampDrop: { nominal: Number.POSITIVE_INFINITY, source: unlimited },
  triggerClampDrop: { nominal: Number.POSITIVE_INFINITY, source: unlimited },
  clampResistance: { nominal: 10, source: 'by definition: without effect, an ideal timer clamps nothing' },
  delay: { nominal: 0, source: byDefinition },
  minimumTrigger: { nominal: 0, source: byDefinition },
  supplyCurrentHigh: { nominal: 0, source: byDefinition },
  supplyCurrentLow: { nominal: 0, source: byDefinition },
  transitionCharge: { nominal: 0, source: byDefinition },
  transitionTime: { nominal: 150e-9, source: 'by definition: without effect, as there is no charge' },
  supplyMinimum: { nominal: 0, source: unlimited },
  supplyMaximum: { nominal: Number.POSITIVE_INFINITY, source: unlimited },
  outputMaximum: { nominal: Number.POSITIVE_INFINITY, source: unlimited },
  outputSinkMaximum: { nominal: Number.POSITIVE_INFINITY, source: unlimited },
};

const bipolar: FamilyTable = {
  dividerResistance: { nominal: 5e3, source: 'ON p. 1, block diagram' },
  thresholdCurrent: { nominal: 30e-9, greatest: 250e-9, source: 'TI-A p. 4' },
  triggerCurrent: { nominal: 0.5e-6, greatest: 2e-6, source: 'TI-A p. 4, trigger at 0 V' },
  resetCurrent: { nominal: 0.4e-3, greatest: 1.5e-3, source: 'TI-92 p. 5, reset at 0 V' },
  resetLevel: { nominal: 0.7, least: 0.3, greatest: 1, source: 'TI-A p. 4' },
  outputHighDrop: { nominal: 1.3, source: 'from memory: 1.2 V to 1.4 V at a few milliamperes' },
  outputHighResistance: {
    nominal: 4,
    source: 'derived: 15 V supply, 13.3 V at 100 mA (TI-A p. 4) is a drop of 1.7 V; (1.7 V - 1.3 V) / 100 mA',
  },
  outputLowSaturation: {
    nominal: 0.02,
    source: 'derived together with the resistance: 0.02 V + 8 Ω × 10 mA = 0.1 V (TI-A p. 4, 15 V supply)',
  },
  outputLowResistance: {
    nominal: 8,
    source:
      'derived: 0.1 V at 10 mA and 0.4 V at 50 mA (TI-A p. 4, 15 V supply) lie on a line of 7.5 Ω from 0.025 V, rounded to 8 Ω from 0.02 V; steeper from 50 mA on',
  },
  outputOneWay: { nominal: true, source: 'TI-A p. 12, output stage of two transistors that conduct one way' },
  dischargeSaturation: {
    nominal: 0.037,
    source: 'derived together with the resistance: 80 mV - 9.5 Ω × 4.5 mA (ST table 3, p. 5)',
  },
  dischargeResistance: {
    nominal: 9.5,
    source: 'derived: 80 mV at 4.5 mA and 180 mV at 15 mA (ST table 3, p. 5); 100 mV / 10.5 mA',
  },
  dischargeCurrent: { nominal: 0.15, source: 'from memory; makers give no limit but the power of the package' },
  dischargeLeakage: { nominal: 20e-9, greatest: 100e-9, source: 'TI-A p. 4, ST p. 5' },
  clampDrop: { nominal: 0.6, source: 'from memory: a junction of silicon' },
  triggerClampDrop: {
    nominal: Number.POSITIVE_INFINITY,
    source:
      'from memory: the base of a pnp transistor, no junction leads from it to the supply; makers allow nothing above the supply (TI-F p. 4)',
  },
  clampResistance: { nominal: 10, source: 'from memory: some ohms to some tens of ohms' },
  delay: { nominal: 0.3e-6, source: 'from memory: 0.1 µs to 0.3 µs, up to 1 µs for a shallow trigger' },
  minimumTrigger: { nominal: 50e-9, source: 'from memory: 30 ns to 100 ns, longer for a shallow trigger' },
  supplyCurrentHigh: { nominal: 2e-3, greatest: 5e-3, source: 'TI-92 p. 6, at 5 V; 9 mA at 15 V' },
  supplyCurrentLow: { nominal: 3e-3, greatest: 6e-3, source: 'TI-A p. 4, at 5 V; 10 mA at 15 V' },
  transitionCharge: {
    nominal: 0,
    greatest: 60e-9,
    source:
      'common practice, no source: 300 mA for 100 ns to 200 ns are reported, 30 nC to 60 nC; off until stated, since it acts only through the impedance of a supply',
  },
  transitionTime: { nominal: 150e-9, greatest: 200e-9, source: 'common practice, no source: 100 ns to 200 ns' },
  supplyMinimum: { nominal: 4.5, source: 'ST p. 3, TI-F p. 4' },
  supplyMaximum: { nominal: 16, source: 'ST p. 3, TI-F p. 4; 18 V destroys it' },
  outputMaximum: { nominal: 0.2, source: 'TI-F p. 4, recommended limit, either way' },
  outputSinkMaximum: { nominal: 0.2, source: 'TI-F p. 4, recommended limit, either way' },
};

const cmos: FamilyTable = {
  dividerResistance: { nominal: 100e3, least: 80e3, greatest: 120e3, source: 'ICM p. 8-172, 100 kΩ ± 20 %' },
  thresholdCurrent: { nominal: 10e-12, source: 'TLC p. 8, 75 pA at 70 °C' },
  triggerCurrent: { nominal: 10e-12, source: 'TLC p. 8, 75 pA at 70 °C' },
  resetCurrent: { nominal: 10e-12, source: 'TLC p. 8, 75 pA at 70 °C' },
  resetLevel: { nominal: 1.1, least: 0.4, greatest: 1.5, source: 'TLC p. 8 and TS p. 6, at 5 V' },
  outputHighDrop: { nominal: 0, source: 'TLC p. 8: the output reaches the supply but for its resistance' },
  outputHighResistance: { nominal: 200, source: 'derived: 4.8 V at 1 mA, 5 V supply (TLC p. 8); 0.2 V / 1 mA' },
  outputLowSaturation: { nominal: 0, source: 'TLC p. 8: the output reaches 0 V but for its resistance' },
  outputLowResistance: { nominal: 26, source: 'derived: 0.21 V at 8 mA, 5 V supply (TLC p. 8)' },
  outputOneWay: { nominal: false, source: 'TLC p. 8, output stage of two switches that conduct both ways' },
  dischargeSaturation: { nominal: 0, source: 'TLC p. 8: a switch with a resistance only' },
  dischargeResistance: {
    nominal: 14,
    greatest: 50,
    source: 'derived: 0.14 V, at most 0.5 V, at 10 mA, 5 V supply (TLC p. 8)',
  },
  dischargeCurrent: { nominal: 0.1, source: 'LMC p. 3, absolute limit of the discharge current' },
  dischargeLeakage: { nominal: 0.1e-9, source: 'TLC p. 8, 0.5 nA at 70 °C' },
  clampDrop: {
    nominal: 0.6,
    source: 'from memory: a junction of silicon; it must not conduct, 0.3 V is the limit (ICM p. 8-172)',
  },
  triggerClampDrop: { nominal: 0.6, source: 'from memory, as at the other inputs' },
  clampResistance: { nominal: 10, source: 'from memory: some ohms to some tens of ohms' },
  delay: { nominal: 100e-9, source: 'LMC p. 4, trigger to output' },
  minimumTrigger: { nominal: 20e-9, source: 'from memory' },
  supplyCurrentHigh: { nominal: 170e-6, greatest: 350e-6, source: 'TLC p. 8, at 5 V' },
  supplyCurrentLow: { nominal: 170e-6, greatest: 350e-6, source: 'TLC p. 8, at 5 V' },
  transitionCharge: { nominal: 0, source: 'ICM p. 8-171: none' },
  transitionTime: { nominal: 150e-9, source: 'by definition: without effect, as there is no charge' },
  supplyMinimum: { nominal: 2, source: 'TLC p. 8' },
  supplyMaximum: { nominal: 15, source: 'TLC p. 8; 18 V destroys it' },
  outputMaximum: { nominal: 0.01, source: 'TLC: 10 mA when it gives current; it takes up to 100 mA' },
  outputSinkMaximum: { nominal: 0.1, source: 'TLC: 100 mA when it takes current' },
};

/** Parameters of every family, each with its source. */
export const familyTable: Readonly<Record<TimerFamily, FamilyTable>> = { ideal, bipolar, cmos };
