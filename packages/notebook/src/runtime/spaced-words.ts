/** Lets sentences out one at a time with a pause between them; of those that come meanwhile, the newest. */
export class SpacedWords {
  private toSay: string | undefined;
  private saidAt = -Infinity;
  private readonly pause: number;

  /** @param pause seconds. */
  constructor(pause: number) {
    this.pause = pause;
  }

  /** Takes in a sentence. */
  say(words: string): void {
    this.toSay = words;
  }

  /** Forgets what was not said yet. */
  clear(): void {
    this.toSay = undefined;
  }

  /** The sentence that is due at a time (s), once. */
  due(now: number): string | undefined {
    if (this.toSay === undefined || now - this.saidAt < this.pause) return undefined;
    const words = this.toSay;
    this.toSay = undefined;
    this.saidAt = now;
    return words;
  }
}
