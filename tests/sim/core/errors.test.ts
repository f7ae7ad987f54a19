import { type Issue, IssueError, issueText } from '#sim/core/errors.ts';
import { describe, expect, test } from 'vitest';

const warning: Issue = { code: 'unusual', severity: 'warning', where: 'R1', message: 'R1: is unusual.' };
const fault: Issue = {
  code: 'out-of-range',
  severity: 'fault',
  where: 'C1.capacitance',
  part: 'C1',
  field: 'capacitance',
  message: 'C1: capacitance must be above 0 F; got -1 F. Write for example 4.7 µF.',
};

describe('issueText', () => {
  test('words place, field, rule, finding and advice in the one grammar', () => {
    expect(
      issueText({
        where: 'R1',
        field: 'resistance',
        rule: 'be at least 0 Ω',
        got: '-5 Ω',
        advice: 'Give the value printed on the part.',
      }),
    ).toBe('R1: resistance must be at least 0 Ω; got -5 Ω. Give the value printed on the part.');
  });

  test('without a field the place itself is the subject', () => {
    expect(issueText({ where: 'page[2]', rule: 'have an id', got: 'none', advice: 'Add one.' })).toBe(
      'page[2] must have an id; got none. Add one.',
    );
  });
});

describe('new IssueError', () => {
  test('of one issue has its text as message', () => {
    expect(new IssueError([fault]).message).toBe(fault.message);
  });

  test('of several says how many more there are', () => {
    expect(new IssueError([fault, fault, warning]).message).toBe(`${fault.message} (and 2 more)`);
  });

  test('puts the first fault in the message, though a warning comes first', () => {
    const error = new IssueError([warning, fault]);
    expect(error.message).toBe(`${fault.message} (and 1 more)`);
    expect(error.issues).toEqual([warning, fault]);
  });

  test('keeps its own list of issues', () => {
    const issues = [fault];
    const error = new IssueError(issues);
    issues.push(warning);
    expect(error.issues).toEqual([fault]);
  });

  test('is an Error with its own name', () => {
    const error = new IssueError([fault]);
    expect(error).toBeInstanceOf(Error);
    expect(error.name).toBe('IssueError');
  });

  test('of no issue is refused', () => {
    expect(() => new IssueError([])).toThrow(RangeError);
  });
});
