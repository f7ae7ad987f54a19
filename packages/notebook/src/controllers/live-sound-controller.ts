import type { ReactiveController, ReactiveControllerHost } from 'lit';
import type { HeardSlice } from '../runtime/live-view.ts';
import { Listening } from '../sound/listening.ts';

/** How long after its end the sound card is given back (ms): the sound has gone by then. */
const LINGER = 150;

/** Makes an output of a run by hand heard while somebody asks for it; ends when the page is hidden. */
export class LiveSoundController implements ReactiveController {
  /** The timer that is listened to. */
  timer: string | undefined;
  private readonly host: ReactiveControllerHost;
  private context: AudioContext | undefined;
  private listening: Listening | undefined;

  constructor(host: ReactiveControllerHost) {
    this.host = host;
    host.addController(this);
  }

  /** Part of lit's controller contract. */
  hostConnected(): void {
    document.addEventListener('visibilitychange', this.hide);
  }

  /** Part of lit's controller contract: what leaves the page is silent. */
  hostDisconnected(): void {
    document.removeEventListener('visibilitychange', this.hide);
    this.off();
  }

  /** Whether an output is listened to. */
  get isOn(): boolean {
    return this.listening !== undefined;
  }

  /** Listens to the output of a timer. To be called from a click: browsers allow no sound without one. */
  on(timer: string): void {
    this.timer = timer;
    if (this.context === undefined) {
      this.context = new AudioContext();
      this.listening = new Listening(this.context);
    }
    void this.context.resume();
    this.host.requestUpdate();
  }

  /** Stops listening. */
  off(): void {
    const { context } = this;
    if (context === undefined) return;
    this.listening?.fade();
    this.context = undefined;
    this.listening = undefined;
    setTimeout(() => void context.close(), LINGER);
    this.host.requestUpdate();
  }

  /** Takes in a slice of time that passed; undefined where time was held. */
  readonly take = (slice: HeardSlice | undefined): void => {
    const { listening } = this;
    if (listening === undefined) return;
    const heard = slice === undefined ? [] : [...slice.report.outputs, ...(slice.report.buzzers ?? [])];
    const output = heard.find(({ timer }) => timer === this.timer);
    if (slice === undefined || output === undefined || output.cut || !(slice.report.done > 0)) {
      listening.fade();
      return;
    }
    const { report, elapsed } = slice;
    const from = report.time - report.done;
    const changes = output.changes.map((time) => ((time - from) / report.done) * elapsed);
    listening.play({
      length: elapsed,
      high: output.high,
      changes: changes.map((at) => Math.min(elapsed, Math.max(0, at))),
    });
  };

  private readonly hide = (): void => {
    if (document.hidden) this.off();
  };
}
