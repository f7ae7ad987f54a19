import fc from 'fast-check';
import { spread } from './arbitrary-numbers.ts';
import { net, nets } from './random-nets.ts';
import type { FilePart } from './run-board.ts';

/**
 * A family with its changes. Delays of their own keep two timers from acting at one instant, or at sums of the same few
 * numbers, by chance.
 */
function made(real: boolean): fc.Arbitrary<{ family: string; with: Record<string, unknown> }> {
  return fc
    .record({
      family: fc.constantFrom('ideal', 'cmos', 'bipolar'),
      changes: parameterChanges,
      delay: spread(1e-7, 1e-5),
      minimumTrigger: spread(1e-8, 1e-6),
      dischargeResistance: spread(1, 100),
    })
    .map(({ family, changes, delay, minimumTrigger, dischargeResistance }) => {
      if (!real) return { family, with: changes };
      const own = family === 'ideal' ? { dischargeResistance } : { minimumTrigger };
      return { family, with: { delay, ...own, ...changes } };
    });
}

/** Where a junction conducts (V), if there is one. */
const drop = fc.oneof({ arbitrary: fc.constant('unlimited'), weight: 1 }, { arbitrary: spread(0.2, 2), weight: 3 });

/** Any of the other parameters that act, alone or together; drops and one-way stages ask for some resistance. */
const anyParameters = fc.record(
  {
    dividerResistance: spread(1e3, 1e5),
    thresholdCurrent: spread(1e-9, 1e-5),
    triggerCurrent: spread(1e-9, 1e-5),
    resetCurrent: spread(1e-9, 1e-3),
    resetLevel: spread(0.3, 1.5),
    outputHighResistance: spread(1, 300),
    outputLowResistance: spread(1, 300),
    outputHighDrop: spread(0.1, 2),
    outputLowSaturation: spread(0.01, 1),
    outputOneWay: fc.boolean(),
    dischargeSaturation: spread(0.01, 0.5),
    dischargeLeakage: spread(1e-9, 1e-5),
    supplyCurrentHigh: spread(1e-5, 1e-2),
    supplyCurrentLow: spread(1e-5, 1e-2),
  },
  { requiredKeys: ['outputHighResistance', 'outputLowResistance'] },
);

const parameterChanges: fc.Arbitrary<Record<string, unknown>> = fc.oneof(
  { arbitrary: fc.constant({}), weight: 3 },
  fc.record({ delay: spread(1e-7, 1e-3) }),
  fc.record({ minimumTrigger: spread(1e-7, 1e-3) }),
  fc.record({ dischargeResistance: spread(1, 100), dischargeCurrent: spread(1e-3, 0.2) }),
  fc.record({ outputHighResistance: spread(1, 300), outputLowResistance: spread(1, 300) }),
  fc.record({ clampDrop: drop, triggerClampDrop: drop, clampResistance: spread(1, 1000) }),
  fc.record({ transitionCharge: spread(1e-10, 6e-8), transitionTime: spread(1e-8, 1e-6) }),
  { arbitrary: anyParameters, weight: 2 },
);

/** From the least to the greatest number of timers, real or not, each with a load at its output. */
export function timers([least, greatest]: readonly [number, number], real: boolean): fc.Arbitrary<FilePart[]> {
  return fc
    .array(
      fc.record({
        made: made(real),
        start: fc.constantFrom('cleared', 'set'),
        trigger: net,
        threshold: net,
        discharge: fc.option(net, { nil: undefined }),
        control: fc.option(net, { nil: undefined, freq: 3 }),
        reset: fc.oneof({ arbitrary: fc.constant('rail'), weight: 2 }, net),
        load: fc.tuple(fc.constantFrom('ground', ...nets), spread(300, 1e5)),
      }),
      { minLength: least, maxLength: greatest },
    )
    .map((list) =>
      list.flatMap(({ trigger, threshold, discharge, control, reset, load, start, made: kind }, k): FilePart[] => [
        {
          name: `U${k}`,
          kind: 'timer',
          start,
          ...kind,
          pins: {
            ...{ supply: 'rail', ground: 'ground', trigger, threshold, output: `out${k}`, reset },
            ...(discharge === undefined ? {} : { discharge }),
            ...(control === undefined ? {} : { control }),
          },
        },
        { name: `RL${k}`, kind: 'resistor', a: `out${k}`, b: load[0], resistance: load[1] },
      ]),
    );
}
