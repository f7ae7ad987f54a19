import type { PartRow } from '@two-thirds/sim/document';
import type { ReactiveController, ReactiveControllerHost } from 'lit';
import type { Json } from '../edit/json.ts';
import { boardsAlone } from '../runtime/detail.ts';
import { Pace, RATES, REAL_TIME } from '../runtime/live-rate.ts';
import type { LiveReport } from '../runtime/live-protocol.ts';
import { AWAY, type LiveView } from '../runtime/live-view.ts';
import { happeningWords, quietWords } from '../runtime/live-words.ts';
import type { LiveHandle } from '../worker/live-start.ts';
import { LiveParts } from './live-parts.ts';

/** Time that the worker may take for a frame (ms): it leaves room for what else the machine has to do. */
const BUDGET = 12;
/** The longest time of a frame that is made up for (s): what a page missed longer than that did not happen. */
const LONGEST_FRAME = 0.1;
/** Pause between two states of the whole board (s): figures that change faster cannot be read. */
const STATE_PAUSE = 0.3;
/** Pause between two sentences (s), so that a screen reader keeps up. */
const WORDS_PAUSE = 1;
/** Pause between two steps to the next event (s), so that no held key makes lamps flash. */
const STEP_PAUSE = 0.35;
/** Time that the search for the next event may take (ms). */
const SEARCH = 1500;

/** One slice of time that passed, for whoever listens. */
export interface HeardSlice {
  readonly report: LiveReport;
  /** How long it took here (s). */
  readonly elapsed: number;
}

/**
 * Runs the board in hand by hand: asks its worker for one slice of time a frame, never for the next before the last has
 * come, and keeps what the page shows of it.
 */
export class LiveRunController implements ReactiveController {
  /** What the page shows. */
  view: LiveView = { ...AWAY, rate: REAL_TIME };
  /** Whether lamps are shown steady however slowly they flash. */
  calm = false;
  /** Hears of every slice of time that passed. */
  heard: ((slice: HeardSlice | undefined) => void) | undefined;

  private readonly host: ReactiveControllerHost;
  private readonly start: (failed: (message: string) => void) => LiveHandle;
  private handle: LiveHandle | undefined;
  private document: Json = null;
  private subject: { readonly text: string; readonly board: string } | undefined;
  private changed = false;
  private board: readonly PartRow[] = [];
  private parts = new LiveParts();
  private readonly pace = new Pace();
  private tick: number | undefined;
  private isBusy = false;
  private wants: 'next' | 'settled' | undefined;
  private sliceAt = 0;
  private stateAt = 0;
  private stepAt = 0;
  private saidAt = -Infinity;
  private toSay: string | undefined;

  constructor(host: ReactiveControllerHost, start: (failed: (message: string) => void) => LiveHandle) {
    this.host = host;
    this.start = start;
    host.addController(this);
  }

  /** Part of lit's controller contract: an element that leaves the page ends the run. */
  hostDisconnected(): void {
    this.leave();
  }

  /** Tells which board is in hand now, and its parts. Changed values are set in the run; another board ends it. */
  show(document: Json, board: string | undefined, parts: readonly PartRow[]): void {
    this.board = parts;
    const { subject } = this;
    if (document === this.document && board === subject?.board) return;
    this.document = document;
    if (board === undefined || (subject !== undefined && subject.board !== board)) this.leave();
    if (board === undefined) {
      this.subject = undefined;
      return;
    }
    const text = JSON.stringify(boardsAlone(document));
    if (subject?.text === text && subject.board === board) return;
    this.subject = { text, board };
    this.changed = this.handle !== undefined;
  }

  /** Lets time pass; begins a run where there is none. */
  async pass(): Promise<void> {
    if (this.view.isOver || !(await this.begin())) return;
    this.sliceAt = performance.now();
    this.pace.clear();
    this.change({ phase: 'passing', slower: undefined });
  }

  /** Holds time. */
  hold(): void {
    if (this.view.phase !== 'passing') return;
    this.heard?.(undefined);
    this.wants = 'settled';
    this.change({ phase: 'held', slower: undefined });
  }

  /** Goes to the next event and holds there. */
  async next(): Promise<void> {
    const now = performance.now() / 1000;
    if (this.view.isOver || now - this.stepAt < STEP_PAUSE || !(await this.begin())) return;
    this.stepAt = now;
    this.hold();
    this.wants = 'next';
  }

  /** Begins again at time 0 and holds there. */
  async restart(): Promise<void> {
    const { rate } = this.view;
    this.leave();
    this.change({ rate });
    await this.begin();
  }

  /** Ends the run; the page shows again what the cursor tells. */
  leave(): void {
    if (this.tick !== undefined) cancelAnimationFrame(this.tick);
    this.tick = undefined;
    this.handle?.terminate();
    this.handle = undefined;
    this.isBusy = false;
    this.wants = undefined;
    this.toSay = undefined;
    this.changed = false;
    if (this.view.phase === 'away') return;
    this.heard?.(undefined);
    this.view = { ...AWAY, rate: this.view.rate };
    this.host.requestUpdate();
  }

  /** Chooses a rate, by its place among the rates. */
  setRate(rate: number): void {
    this.pace.clear();
    this.change({ rate, slower: undefined });
  }

  /** Works a part, or lets it go. */
  work(part: string, pressed: boolean): void {
    const { handle, view } = this;
    if (handle === undefined || view.isOver || view.worked.has(part) === pressed) return;
    const worked = new Set(view.worked);
    if (pressed) worked.add(part);
    else worked.delete(part);
    void handle.live.work(part, pressed);
    this.wants ??= 'settled';
    this.change({ worked });
  }

  private async begin(): Promise<boolean> {
    const { subject } = this;
    if (this.handle !== undefined) return true;
    if (subject === undefined) return false;
    const handle = this.start((message) => this.fail(message));
    this.handle = handle;
    this.changed = false;
    this.parts = new LiveParts();
    const beginning = await handle.live.begin(subject.text, subject.board);
    if (this.handle !== handle) return false;
    if (!beginning.ok) {
      this.leave();
      this.change({ complaint: beginning.failure.message });
      return false;
    }
    const { presses } = beginning;
    this.change({ phase: 'held', presses, worked: new Set(), complaint: undefined, isOver: false });
    this.take(beginning.report, 0, performance.now() / 1000);
    this.tick = requestAnimationFrame(this.frame);
    return true;
  }

  private readonly frame = (time: number): void => {
    this.tick = requestAnimationFrame(this.frame);
    this.speak(time / 1000);
    if (this.isBusy) return;
    if (this.view.phase !== 'passing') this.rest(time / 1000);
    if (this.changed) void this.ask(this.takeChange);
    else if (this.wants === 'next') void this.ask((handle) => this.step(handle));
    else if (this.view.phase === 'passing') void this.ask((handle) => this.slice(handle, time));
    else if (this.wants === 'settled') void this.ask((handle) => this.settle(handle));
  };

  /** Asks the worker one thing at a time. */
  private async ask(question: (handle: LiveHandle) => Promise<void>): Promise<void> {
    const { handle } = this;
    if (handle === undefined) return;
    this.isBusy = true;
    try {
      await question(handle);
    } catch (error) {
      if (this.handle === handle) this.fail(error instanceof Error ? error.message : String(error));
    }
    if (this.handle === handle) this.isBusy = false;
  }

  private async slice(handle: LiveHandle, time: number): Promise<void> {
    const passed = Math.max(0, (time - this.sliceAt) / 1000);
    this.sliceAt = Math.max(time, this.sliceAt);
    this.wants = undefined;
    const elapsed = Math.min(LONGEST_FRAME, passed);
    const now = time / 1000;
    const whole = now - this.stateAt >= STATE_PAUSE;
    const span = elapsed * (RATES[this.view.rate] ?? 1);
    const report = await handle.live.advance({ span, budget: BUDGET, whole });
    if (this.handle !== handle) return;
    // A page that was out of sight did not fall behind.
    if (passed < 5 * LONGEST_FRAME) this.pace.take(passed, report.done);
    this.take(report, elapsed, now);
    if (this.view.phase === 'passing') this.heard?.({ report, elapsed });
  }

  private async settle(handle: LiveHandle): Promise<void> {
    this.wants = undefined;
    const report = await handle.live.advance({ span: 0, budget: BUDGET, whole: true });
    if (this.handle === handle) this.take(report, 0, performance.now() / 1000);
  }

  private async step(handle: LiveHandle): Promise<void> {
    this.wants = undefined;
    const report = await handle.live.next(SEARCH);
    if (this.handle !== handle) return;
    const { quietUntil, time } = report;
    if (quietUntil !== undefined) this.say(quietWords(time, quietUntil, this.view.presses));
    this.take(report, 0, performance.now() / 1000);
  }

  private readonly takeChange = async (handle: LiveHandle): Promise<void> => {
    const { subject } = this;
    this.changed = false;
    if (subject === undefined) return;
    const change = await handle.live.change(subject.text, subject.board);
    if (this.handle !== handle) return;
    this.wants ??= 'settled';
    if (!change.ok) {
      this.change({ complaint: `The run goes on with the values before. ${change.failure.message}` });
      return;
    }
    const { presses, restarted } = change;
    this.change({ presses, complaint: undefined, isOver: restarted ? false : this.view.isOver });
    if (!restarted) return;
    this.parts = new LiveParts();
    this.change({ phase: 'held', worked: new Set() });
    this.say('The board has other parts now: the run begins anew at 0 s.');
  };

  private take(report: LiveReport, elapsed: number, now: number): void {
    const { state, failure, time } = report;
    const isMoving = elapsed > 0;
    const isNew = this.parts.take(report, elapsed, now, this.board, this.calm);
    const words = happeningWords(report, this.view.presses);
    if (words !== undefined) this.say(words);
    if (failure !== undefined) {
      this.heard?.(undefined);
      this.change({ phase: 'held', complaint: failure.message, isOver: true, time });
      return;
    }
    const { lamps, tones, currents } = this.parts;
    if (state !== undefined) {
      this.stateAt = now;
      const slower = isMoving ? this.pace.behind(RATES[this.view.rate] ?? 1) : undefined;
      this.change({ time, state, slower, lamps, tones, currents });
    } else if (isNew) this.change({ lamps });
  }

  /** Lamps that may not turn yet because they turned a moment ago get there while time is held. */
  private rest(now: number): void {
    if (this.parts.rest(now, this.board)) this.change({ lamps: this.parts.lamps });
  }

  private say(words: string): void {
    this.toSay = words;
    this.speak(performance.now() / 1000);
  }

  private speak(now: number): void {
    const words = this.toSay;
    if (words === undefined || now - this.saidAt < WORDS_PAUSE) return;
    this.saidAt = now;
    this.toSay = undefined;
    this.change({ words });
  }

  private fail(message: string): void {
    this.leave();
    this.change({ complaint: message });
  }

  private change(change: Partial<LiveView>): void {
    this.view = { ...this.view, ...change };
    this.host.requestUpdate();
  }
}
