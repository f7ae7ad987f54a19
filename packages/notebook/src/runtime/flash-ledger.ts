/** How often lamps may turn brighter, and how often darker, within {@link WINDOW}; one of each is a flash. */
const MOST = 3;
/** A second, and some frames more: what is decided now is painted a moment later, not always the same (s). */
const WINDOW = 1.1;

/**
 * Counts the flashes of all lamps of a page together. WCAG 2.2, success criterion 2.3.1, allows three flashes within any
 * second and leaves out what is small; but how large a lamp is seen depends on zoom and distance, and two lamps beside
 * each other may be seen as one area. So every lamp counts, wherever it is: at most three times within a second any of them
 * turns brighter, and three times any turns darker. Lamps that turn the same way in the same frame are one light to the
 * eye and count once.
 */
export class FlashLedger {
  private readonly turns = new Map<number, number[]>([
    [1, []],
    [-1, []],
  ]);

  /**
   * Whether a lamp may turn now; if so, it is noted that it does.
   *
   * @param direction 1 for brighter, -1 for darker.
   * @param now page time (s).
   */
  mayTurn(direction: number, now: number): boolean {
    const recent = (this.turns.get(direction) ?? []).filter((time) => time > now - WINDOW);
    const isCounted = recent.includes(now);
    const may = isCounted || recent.length < MOST;
    if (may && !isCounted) recent.push(now);
    this.turns.set(direction, recent);
    return may;
  }
}
