/** A function that formulas may call. */
export interface FormulaFunction {
  /** Least and most arguments. */
  readonly takes: readonly [least: number, most: number];
  /**
   * What it does to units: `plain` takes and gives plain numbers; `keep` gives what it takes, all arguments alike;
   * `root` halves every power.
   */
  readonly units: 'plain' | 'keep' | 'root';
  readonly compute: (...values: number[]) => number;
  /** What its argument must be, where not every number will do: the rest of "...: it needs". */
  readonly needs?: string;
  /** What it gives, for lists. */
  readonly title: string;
}

const plain = { takes: [1, 1], units: 'plain' } as const;

/** Every function that formulas may call, by name. Nothing else can be called. */
export const formulaFunctions: ReadonlyMap<string, FormulaFunction> = new Map<string, FormulaFunction>([
  ['abs', { takes: [1, 1], units: 'keep', compute: Math.abs, title: 'without its sign' }],
  ['min', { takes: [1, 20], units: 'keep', compute: Math.min, title: 'the least' }],
  ['max', { takes: [1, 20], units: 'keep', compute: Math.max, title: 'the largest' }],
  [
    'sqrt',
    { takes: [1, 1], units: 'root', compute: Math.sqrt, needs: 'a number that is not negative', title: 'square root' },
  ],
  ['exp', { ...plain, compute: Math.exp, title: 'e to this power' }],
  ['ln', { ...plain, compute: Math.log, needs: 'a number above 0', title: 'natural logarithm' }],
  ['log10', { ...plain, compute: Math.log10, needs: 'a number above 0', title: 'logarithm to base 10' }],
  ['sin', { ...plain, compute: Math.sin, title: 'sine of an angle in radians' }],
  ['cos', { ...plain, compute: Math.cos, title: 'cosine' }],
  ['tan', { ...plain, compute: Math.tan, title: 'tangent' }],
  ['floor', { ...plain, compute: Math.floor, title: 'whole number below' }],
  ['ceil', { ...plain, compute: Math.ceil, title: 'whole number above' }],
  ['round', { ...plain, compute: Math.round, title: 'nearest whole number, halves upward' }],
]);

/** Constants by name. */
export const formulaConstants: ReadonlyMap<string, number> = new Map([['pi', Math.PI]]);
