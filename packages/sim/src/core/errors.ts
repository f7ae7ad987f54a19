/** One thing wrong with an input, as data, so that a front end can show it beside the part it is about. */
export interface Issue {
  /** Stable name of the kind of issue, for programs: lower-case words joined by `-`, for example `out-of-range`. */
  readonly code: string;
  /** `fault`: cannot be computed. `warning`: computed, but somebody should look. */
  readonly severity: 'fault' | 'warning';
  /** Place in the input, for example `R1.resistance` or `page[2].until`. */
  readonly where: string;
  /** Name of the part it is about, if it is about one. */
  readonly part?: string;
  /** Name of the field it is about, if it is about one. */
  readonly field?: string;
  /** The whole sentence for people, in the grammar of {@link issueText}. */
  readonly message: string;
}

/**
 * Carries all issues of a refused input.
 *
 * The message is the first fault's text (the first issue's, if none is a fault), plus how many
 * more there are.
 */
export class IssueError extends Error {
  /** Every issue found, in the order found; never empty. */
  readonly issues: readonly Issue[];

  /**
   * @param issues what is wrong, at least one.
   * @throws RangeError if `issues` is empty, for then there is nothing to refuse.
   */
  constructor(issues: readonly Issue[]) {
    const first = issues.find((issue) => issue.severity === 'fault') ?? issues[0];
    if (first === undefined) {
      throw new RangeError(
        'IssueError: issues must hold at least one issue; got none. Throw it only when something is wrong.',
      );
    }
    const more = issues.length - 1;
    super(more === 0 ? first.message : `${first.message} (and ${more} more)`);
    this.name = 'IssueError';
    this.issues = [...issues];
  }
}

/** The pieces of one message, see {@link issueText}. */
export interface IssueWording {
  /** Place in the input, for example `R1` or `page[2]`. */
  readonly where: string;
  /** Field the rule is about, for example `resistance`; left out where the place itself is meant. */
  readonly field?: string;
  /** What must hold, as it reads after "must", for example `be at least 0 Ω`. */
  readonly rule: string;
  /** What was found, as text with its unit, for example `-5 Ω`. */
  readonly got: string;
  /** What to do about it, one or more sentences, with their full stops. */
  readonly advice: string;
}

/**
 * Words one message in the one grammar of all errors:
 * `<where>: <field> must <rule>; got <value with unit>. <what to do>`.
 *
 * Without a field it reads `<where> must <rule>; got ...`.
 */
export function issueText(wording: IssueWording): string {
  const { where, field, rule, got, advice } = wording;
  const subject = field === undefined ? where : `${where}: ${field}`;
  return `${subject} must ${rule}; got ${got}. ${advice}`;
}
