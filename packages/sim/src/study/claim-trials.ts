import type { Trial } from './claim-simplicity.ts';

/** Draws trials of a claim and makes failing ones simpler. The same seed always gives the same trials. */
export interface ClaimTrials {
  /**
   * @param sizes how many values each choice has.
   * @param seed a whole number from 0 to 4294967295.
   */
  draw(sizes: readonly number[], seed: number, count: number): Trial[];
  /**
   * Makes a failing trial simpler as long as it fails: puts values back to the board's own, one at a time, then takes
   * rounder ones, which have smaller positions. Nothing simpler by one such step fails any more.
   */
  simplest(failing: Trial, fails: (trial: Trial) => boolean): Trial;
}

/**
 * Loads what draws and shrinks trials. It is large, and few documents have a claim, so it is loaded only when it is asked
 * for.
 */
export async function loadClaimTrials(): Promise<ClaimTrials> {
  const { createClaimTrials } = await import('./claim-drawing.ts');
  return createClaimTrials();
}
