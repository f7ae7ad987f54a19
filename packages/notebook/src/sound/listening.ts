import { EdgeWave } from './edge-wave.ts';

/** No sample is ever further from 0 than this share of full scale: quiet on purpose, and nothing on the page raises it. */
export const CEILING = 0.08;
/** How long sound takes to come up, and to go (s). */
const SOFT_START = 0.8;
const SOFT_END = 0.03;
/** The same after a gap that nobody asked for (s). */
const SOFT_AGAIN = 0.1;
/** The band that is let through (Hz): no thumps, nothing shrill. */
const LOWEST = 40;
const HIGHEST = 6000;
/** Steps of full size leave room for what the filters add. */
const ROOM = 0.45;
/** How far sound is planned ahead (s), so that an uneven frame makes no gap; and how near it may come to now. */
const AHEAD = 0.15;
const TOO_NEAR = 0.01;

/** A piece of an output's course to be heard. */
export interface HeardPiece {
  /** Seconds of the page. */
  readonly length: number;
  /** Whether the output is high when it begins. */
  readonly high: boolean;
  /** When it changes, in seconds from its beginning, ascending. */
  readonly changes: readonly number[];
}

/** Makes the changes of an output heard: in a limited band, coming up softly, under a fixed ceiling. */
export class Listening {
  private readonly context: BaseAudioContext;
  private readonly input: BiquadFilterNode;
  private readonly loudness: GainNode;
  private wave = new EdgeWave();
  /** The sample with which the next piece begins, and the exact time of its beginning (s); undefined while silent. */
  private playhead: { sample: number; time: number } | undefined;

  constructor(context: BaseAudioContext) {
    this.context = context;
    this.input = new BiquadFilterNode(context, { type: 'highpass', frequency: LOWEST });
    const top = new BiquadFilterNode(context, { type: 'lowpass', frequency: HIGHEST });
    // A curve of two points is a straight line that ends at -1 and 1: nothing gets beyond, whatever goes in.
    const limit = new WaveShaperNode(context, { curve: new Float32Array([-1, 1]) });
    this.loudness = new GainNode(context, { gain: 0 });
    this.input.connect(top).connect(limit).connect(this.loudness).connect(context.destination);
  }

  /** Plays the next piece, right after the one before. */
  play({ length, high, changes }: HeardPiece): void {
    const { context } = this;
    const { sampleRate, currentTime } = context;
    if (this.playhead === undefined || this.playhead.time < currentTime + TOO_NEAR) this.begin(currentTime + AHEAD);
    const playhead = this.playhead ?? { sample: 0, time: 0 };
    const end = playhead.time + length;
    const count = Math.round(end * sampleRate) - playhead.sample;
    if (count < 1) return;
    const scale = count / length;
    const samples = this.wave.render(
      count,
      high,
      changes.map((change) => change * scale),
    );
    for (let index = 0; index < count; index += 1) samples[index] = (samples[index] ?? 0) * ROOM;
    const buffer = new AudioBuffer({ length: count, sampleRate });
    buffer.copyToChannel(samples, 0);
    const source = new AudioBufferSourceNode(context, { buffer });
    source.connect(this.input);
    source.start(playhead.sample / sampleRate);
    this.playhead = { sample: playhead.sample + count, time: end };
  }

  /** Lets the sound go. The next piece comes up softly again. */
  fade(): void {
    if (this.playhead === undefined) return;
    const { gain } = this.loudness;
    gain.cancelScheduledValues(this.context.currentTime);
    gain.setTargetAtTime(0, this.context.currentTime, SOFT_END / 3);
    this.playhead = undefined;
  }

  private begin(time: number): void {
    const { gain } = this.loudness;
    gain.cancelScheduledValues(this.context.currentTime);
    gain.setValueAtTime(0, time);
    gain.linearRampToValueAtTime(CEILING, time + (this.playhead === undefined ? SOFT_START : SOFT_AGAIN));
    this.wave = new EdgeWave();
    this.playhead = { sample: Math.ceil(time * this.context.sampleRate), time };
  }
}
