import { loadPoint } from '#notebook/edit/load-point.ts';
import { withValue } from '#notebook/edit/path.ts';
import { choiceNow, swapValues } from '#notebook/edit/swap-point.ts';
import type { Json } from '#notebook/edit/json.ts';
import { describe, expect, test } from 'vitest';

const kit: Json = {
  boards: {
    kit: {
      parts: [
        { name: 'R1', kind: 'resistor', a: 'rail', b: 'timing', resistance: '390k' },
        { name: 'M1', kind: 'probe', a: 'timing', resistance: '10 MΩ' },
        { name: 'U1', kind: 'timer', family: 'bipolar', pins: {} },
        { name: 'J1', kind: 'jumper', a: 'rail', b: 'timing', closed: false },
      ],
    },
  },
};

describe('swapValues', () => {
  test('give the board what is plugged in, as text, number or truth', () => {
    expect(swapValues(['R1', 'U1.family', 'J1', 'P1'], ['47 kΩ', 'cmos', 'true', '0.5'])).toEqual([
      { name: 'R1', unit: null, value: '47 kΩ' },
      { name: 'U1.family', unit: null, value: 'cmos' },
      { name: 'J1', unit: null, value: true },
      { name: 'P1', unit: null, value: 0.5 },
    ]);
  });

  test('a meter that is not attached becomes one that loads next to nothing, and is known again', () => {
    const values = swapValues(['R1', 'M1', 'J1'], ['1 MΩ', 'none', 'true']);
    const edit = loadPoint(kit, 'kit', values);
    expect(edit?.label).toBe('R1 to 1 MΩ and M1 to 1 TΩ and J1 to true');
    const after = edit === undefined ? null : withValue(kit, edit.path, edit.value);
    expect(choiceNow(after, 'kit', 'M1', ['none', '10 MΩ'])).toBe(0);
    expect(choiceNow(after, 'kit', 'R1', ['390 kΩ', '1 MΩ'])).toBe(1);
    expect(choiceNow(after, 'kit', 'J1', ['false', 'true'])).toBe(1);
  });
});

describe('choiceNow', () => {
  test('knows a value however it is written, and none of the choices as none', () => {
    expect(choiceNow(kit, 'kit', 'R1', ['100 kΩ', '390\u202fkΩ'])).toBe(1);
    expect(choiceNow(kit, 'kit', 'U1.family', ['cmos', 'bipolar'])).toBe(1);
    expect(choiceNow(kit, 'kit', 'R1', ['100 kΩ'])).toBe(-1);
    expect(choiceNow(kit, 'kit', 'R9', ['100 kΩ'])).toBe(-1);
  });
});
