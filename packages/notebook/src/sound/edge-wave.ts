/**
 * Renders a signal that steps between -1 and 1 as samples, piece after piece. Every step is widened to the two samples
 * beside it (the integral of a triangle of two samples' width), which takes away most of what would lie above the band.
 */
export class EdgeWave {
  /** What the last step of the piece before adds to the first sample of the next. */
  private carried = 0;

  /**
   * The next piece.
   *
   * @param length in samples.
   * @param high whether it begins at 1.
   * @param steps where it changes, in samples from its beginning, ascending, each from 0 up to the length.
   */
  render(length: number, high: boolean, steps: readonly number[]): Float32Array<ArrayBuffer> {
    const samples = new Float32Array(length);
    let level = high ? 1 : -1;
    let filled = 0;
    for (const step of steps) {
      const before = Math.min(length, Math.floor(step) + 1);
      samples.fill(level, filled, Math.max(filled, before));
      filled = Math.max(filled, before);
      level = -level;
    }
    samples.fill(level, filled);
    this.add(samples, 0, this.carried);
    this.carried = 0;
    let size = high ? -2 : 2;
    for (const step of steps) {
      const sample = Math.min(length - 1, Math.floor(step));
      const share = Math.min(1, step - sample);
      this.add(samples, sample, (size * (1 - share) ** 2) / 2);
      this.add(samples, sample + 1, (-size * share ** 2) / 2);
      size = -size;
    }
    return samples;
  }

  private add(samples: Float32Array, at: number, amount: number): void {
    if (at < samples.length) samples[at] = (samples[at] ?? 0) + amount;
    else this.carried += amount;
  }
}
