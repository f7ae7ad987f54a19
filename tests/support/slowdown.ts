/** How slow the browser of the journeys is made. */
export interface Slowdown {
  /** How many times as long the page's processor takes; every timeout is as many times as long. */
  readonly factor: number;
  /** What the delays of messages are drawn from. */
  readonly seed: number;
}

/**
 * Reads how slow journeys are to be: the environment variable `JOURNEY_SLOWDOWN`, a factor and, after a comma, a seed,
 * such as `4` or `4,17`.
 *
 * @param text what the variable holds; nothing for the machine's own speed.
 * @throws {RangeError} where it is something else.
 */
function slowdownOf(text: string | undefined): Slowdown | undefined {
  if (text === undefined || text === '') return undefined;
  const [, factor, seed = '1'] = /^(\d+(?:\.\d+)?)(?:,(\d+))?$/.exec(text) ?? [];
  if (factor === undefined || Number(factor) < 1) {
    throw new RangeError(
      `JOURNEY_SLOWDOWN: must be a factor of at least 1, with or without a seed; got "${text}". Write 4 or 4,17.`,
    );
  }
  return { factor: Number(factor), seed: Number(seed) };
}

/** How slow the journeys of this run are. */
export const slowdown = slowdownOf(process.env['JOURNEY_SLOWDOWN']);

/** How many times as long everything may take that is waited for. */
export const patience = slowdown?.factor ?? 1;
