/** What is wrong with a formula, in pieces for a message: `must <rule>; got <got>. <advice>`. */
export interface FormulaFault {
  readonly rule: string;
  /** What was found, with its place in the text. */
  readonly got: string;
  readonly advice: string;
}

/** Thrown inside this folder and caught at its edge. */
export class FormulaError extends Error {
  readonly fault: FormulaFault;

  /** @param fault what is wrong. */
  constructor(fault: FormulaFault) {
    super(`a formula must ${fault.rule}; got ${fault.got}. ${fault.advice}`);
    this.name = 'FormulaError';
    this.fault = fault;
  }
}

/** How a place in the text is said; characters are counted from 1, as people count. */
export function placeWords(start: number): string {
  return `at character ${start + 1}`;
}
