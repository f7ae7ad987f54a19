import type * as v from 'valibot';
import { type Issue, issueText } from '../core/errors.ts';
import { foundText, quotedText } from '../core/found-text.ts';
import { isObject } from '../field/record.ts';
import { nameAdvice } from './name-help.ts';
import { placeInside } from './place.ts';

/**
 * Schemas in this folder carry their own words: every message of theirs has the form `must ...; got .... ...`, to which
 * {@link schemaIssues} adds the place. This makes such a message from a rule and an advice.
 */
export function wording(rule: string, advice: string): (issue: v.BaseIssue<unknown>) => string {
  return (issue) => `must ${rule}; got ${foundData(issue.input)}. ${advice}`;
}

/** Says what was found: of a list how many it holds, for what is in it is seldom what is wrong with it. */
export function foundData(input: unknown): string {
  if (Array.isArray(input)) return input.length === 0 ? 'an empty list' : `a list of ${input.length}`;
  if (!isObject(input)) return foundText(input);
  return Object.keys(input).length === 0 ? 'an empty object' : 'an object';
}

/**
 * The message for an object with a closed list of fields: says which field is unknown (and which are allowed) or
 * missing.
 *
 * @param title what has these fields, for example `a reading cell`.
 * @param names all fields allowed.
 */
export function fieldsWording(title: string, names: readonly string[]): (issue: v.BaseIssue<unknown>) => string {
  return (issue) => {
    if (issue.expected === 'never') {
      const found = String(issue.path?.at(-1)?.key);
      const advice = nameAdvice(found, names, 'Remove it, or correct its name.');
      return `must be a field of ${title} (${names.join(', ')}); got ${quotedText(found)}. ${advice}`;
    }
    if (issue.received === 'undefined' && issue.path !== undefined) {
      return `must be given in ${title}; got nothing. Add it.`;
    }
    return `must be an object with fields of ${title} (${names.join(', ')}); got ${foundData(issue.input)}. Write { ... }.`;
  };
}

/**
 * Turns the issues of one schema check into issues with exact places.
 *
 * @param place where the checked data stands, for example `page[2]`.
 * @param label how a message names that place, for example `page[2] (numbers)`.
 */
export function schemaIssues(issues: readonly v.BaseIssue<unknown>[], place: string, label: string): Issue[] {
  return issues.map((issue) => {
    const steps = (issue.path ?? []).map((step) => (typeof step.key === 'number' ? step.key : String(step.key)));
    const where = steps.reduce<string>(placeInside, place);
    const field = steps.reduce<string>(placeInside, '');
    const subject = field === '' ? label : `${label}: ${field}`;
    return {
      code: codeOf(issue),
      severity: 'fault',
      where,
      ...(field === '' ? {} : { field }),
      message: `${subject} ${issue.message}`,
    };
  });
}

function codeOf(issue: v.BaseIssue<unknown>): string {
  if (issue.expected === 'never') return 'unknown-field';
  if (issue.received === 'undefined') return 'missing-field';
  return issue.kind === 'schema' ? 'wrong-type' : 'out-of-range';
}

/** One issue of this folder, worded by {@link issueText}. */
export function fault(
  code: string,
  where: string,
  wordingOf: { label?: string; field?: string; rule: string; got: string; advice: string },
): Issue {
  const { label, ...rest } = wordingOf;
  return {
    code,
    severity: 'fault',
    where,
    ...(rest.field === undefined ? {} : { field: rest.field }),
    message: issueText({ where: label ?? where, ...rest }),
  };
}
