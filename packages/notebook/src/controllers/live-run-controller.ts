import type { PartRow } from '@two-thirds/sim/document';
import type { ReactiveController, ReactiveControllerHost } from 'lit';
import type { Json } from '../edit/json.ts';
import { boardsAlone } from '../runtime/detail.ts';
import type { LampLights } from '../runtime/lamp-lights.ts';
import { Pace, REAL_TIME } from '../runtime/live-rate.ts';
import type { LiveBeginning, LiveReport, LiveSubject } from '../runtime/live-protocol.ts';
import { AWAY, type HeardSlice, type LiveView } from '../runtime/live-view.ts';
import { happeningWords, quietWords } from '../runtime/live-words.ts';
import { SpacedWords } from '../runtime/spaced-words.ts';
import { workedAfter, WorkQueue } from '../runtime/work-queue.ts';
import type { LiveHandle } from '../worker/live-start.ts';
import { LiveDrawing } from './live-drawing.ts';
import { LiveParts } from './live-parts.ts';
import { BUDGET, LONGEST_FRAME, STATE_PAUSE, WORDS_PAUSE, STEP_PAUSE, SEARCH } from './live-timing.ts';

/**
 * Runs the board in hand by hand: asks its worker for one slice of time a frame, never for the next before the last has
 * come, and keeps what the page shows of it.
 */
export class LiveRunController implements ReactiveController {
  /** What the page shows. */
  view: LiveView = { ...AWAY, rate: REAL_TIME };
  /** Whether lamps are shown steady however slowly they flash. */
  calm = false;
  /** What is drawn of the run while it goes on. */
  readonly drawing = new LiveDrawing();
  /** Hears of every slice of time that passed. */
  heard: ((slice: HeardSlice | undefined) => void) | undefined;

  private readonly host: ReactiveControllerHost;
  private readonly start: (failed: (message: string) => void) => LiveHandle;
  private handle: LiveHandle | undefined;
  private document: Json = null;
  /** Whether the run has begun, once that is known. */
  private begun: Promise<boolean> | undefined;
  private subject: LiveSubject | undefined;
  private changed = false;
  private board: readonly PartRow[] = [];
  private readonly parts: LiveParts;
  private readonly pace = new Pace();
  private tick: number | undefined;
  private isBusy = false;
  private wants: 'next' | 'settled' | 'start' | undefined;
  private sliceAt = 0;
  private stateAt = 0;
  private stepAt = 0;
  private readonly words = new SpacedWords(WORDS_PAUSE);
  private readonly works = new WorkQueue();

  /** @param lights how lamps are shown, for all that shows those of this board. */
  constructor(
    host: ReactiveControllerHost,
    start: (failed: (message: string) => void) => LiveHandle,
    lights: LampLights,
  ) {
    this.host = host;
    this.start = start;
    this.parts = new LiveParts(lights);
    host.addController(this);
  }

  /** Part of lit's controller contract: an element that leaves the page ends the run. */
  hostDisconnected(): void {
    this.leave();
  }

  /** Tells which board is in hand now, and its parts. Changed values are set in the run; another board ends it. */
  show(document: Json, board: string | undefined, parts: readonly PartRow[]): void {
    this.board = parts;
    this.drawing.show(document, board, parts);
    const { subject } = this;
    if (document === this.document && board === subject?.board) return;
    this.document = document;
    if (subject !== undefined && subject.board !== board) this.leave();
    const text = JSON.stringify(boardsAlone(document));
    if (subject?.text === text && subject.board === board) return;
    this.subject = board === undefined ? undefined : { text, board };
    this.changed = this.handle !== undefined;
    // Why another state of the board could not run is over and done.
    if (this.handle === undefined) this.view = { ...this.view, complaint: undefined };
  }

  /** Lets time pass; begins a run where there is none. */
  async pass(): Promise<void> {
    if (this.view.isOver || !(await this.begin())) return;
    this.sliceAt = performance.now();
    this.wants = undefined;
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
    if (this.view.isOver || !(await this.begin())) return;
    this.hold();
    this.wants = 'next';
  }

  /** Begins again at time 0 and holds there. */
  restart(): void {
    this.hold();
    this.wants = 'start';
  }

  /** Ends the run; the page shows again what the cursor tells. */
  leave(): void {
    if (this.tick !== undefined) cancelAnimationFrame(this.tick);
    this.tick = undefined;
    this.handle?.terminate();
    this.handle = undefined;
    this.begun = undefined;
    this.isBusy = false;
    this.wants = undefined;
    this.words.clear();
    this.works.clear();
    this.changed = false;
    this.drawing.leave();
    if (this.view.phase === 'away') return;
    this.heard?.(undefined);
    this.view = { ...AWAY, rate: this.view.rate };
    this.host.requestUpdate();
  }

  /** Chooses a rate, by its place among the rates. */
  setRate(rate: number): void {
    this.pace.clear();
    this.drawing.setRate(rate);
    this.change({ rate, slower: undefined });
  }

  /** Works a part, or lets it go. */
  work(part: string, pressed: boolean): void {
    const { handle, view } = this;
    if (handle === undefined || view.isOver || view.worked.has(part) === pressed) return;
    this.works.add({ part, pressed });
    this.change({ worked: workedAfter(view.worked, { part, pressed }) });
  }

  /** Begins a run where there is none; what is asked while it begins follows it, in turn. False where none can begin. */
  private async begin(): Promise<boolean> {
    if (this.subject === undefined) return false;
    this.begun ??= this.startRun(this.subject);
    return this.begun;
  }

  private async startRun({ text, board }: LiveSubject): Promise<boolean> {
    const handle = this.start((message) => {
      if (this.handle === handle) this.fail(message);
    });
    this.handle = handle;
    this.changed = false;
    const beginning = await handle.live.begin(text, board);
    if (this.handle !== handle || !this.takeBeginning(beginning)) return false;
    this.tick = requestAnimationFrame(this.frame);
    return true;
  }

  private takeBeginning(beginning: LiveBeginning): boolean {
    this.words.clear();
    this.works.clear();
    if (!beginning.ok) {
      this.fail(beginning.failure.message);
      return false;
    }
    this.parts.forget();
    const { presses, report, level } = beginning;
    this.drawing.begin(level);
    this.change({ phase: 'held', presses, worked: new Set(), words: '', complaint: undefined, isOver: false });
    this.take(report, 0, performance.now() / 1000);
    return true;
  }

  private readonly frame = (time: number): void => {
    this.tick = requestAnimationFrame(this.frame);
    const words = this.words.due(time / 1000);
    if (words !== undefined) this.change({ words });
    if (this.isBusy) return;
    // Lamps that may not turn yet because they turned a moment ago get there while time is held.
    const isMoved = this.view.phase !== 'passing' && this.parts.rest(performance.now() / 1000, this.board);
    if (isMoved) this.change({ lamps: this.parts.lamps });
    for (const { part, pressed } of this.works.take()) {
      void this.handle?.live.work(part, pressed);
      this.wants ??= 'settled';
    }
    if (this.wants === 'start') void this.ask((handle) => this.startAgain(handle));
    else if (this.changed) void this.ask(this.takeChange);
    else if (this.wants === 'next') {
      if (time / 1000 - this.stepAt >= STEP_PAUSE) void this.ask((handle) => this.step(handle));
    } else if (this.view.phase === 'passing') void this.ask((handle) => this.slice(handle, time));
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
    const [span, trace] = [elapsed * this.drawing.rate, this.drawing.ask()];
    const whole = time / 1000 - this.stateAt >= STATE_PAUSE;
    const report = await handle.live.advance({ span, budget: BUDGET, whole, trace });
    if (this.handle !== handle) return;
    // A page that was out of sight did not fall behind.
    if (passed < 5 * LONGEST_FRAME) this.pace.take(passed, report.done);
    // Lamps are held to how often they are seen to flash: a slice is seen when it comes, however long that took.
    this.take(report, elapsed, performance.now() / 1000);
    if (this.view.phase === 'passing') this.heard?.({ report, elapsed });
  }

  private async settle(handle: LiveHandle): Promise<void> {
    this.wants = undefined;
    const report = await handle.live.advance({ span: 0, budget: BUDGET, whole: true, trace: this.drawing.ask() });
    if (this.handle === handle) this.take(report, 0, performance.now() / 1000);
  }

  private async startAgain({ live }: LiveHandle): Promise<void> {
    const { subject, handle } = this;
    this.wants = undefined;
    this.changed = false;
    if (subject === undefined) return;
    const beginning = await live.begin(subject.text, subject.board);
    if (this.handle === handle) this.takeBeginning(beginning);
  }

  private async step(handle: LiveHandle): Promise<void> {
    this.wants = undefined;
    this.stepAt = performance.now() / 1000;
    const report = await handle.live.next(SEARCH, this.drawing.ask());
    if (this.handle !== handle) return;
    if (report.quietUntil !== undefined) this.words.say(quietWords(report.time, report.quietUntil, this.view.presses));
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
    this.change({ presses: change.presses, complaint: undefined, isOver: !change.restarted && this.view.isOver });
    if (!change.restarted) return;
    this.parts.forget();
    this.change({ phase: 'held', worked: new Set() });
    this.words.say('The board has other parts now: the run begins anew at 0 s.');
  };

  private take(report: LiveReport, elapsed: number, now: number): void {
    const { state, failure, time } = report;
    const isNew = this.parts.take(report, elapsed, now, this.board, this.calm);
    this.drawing.take(report, now, elapsed === 0, this.calm);
    const words = happeningWords(report, this.view.presses);
    if (words !== undefined) this.words.say(words);
    if (failure !== undefined) {
      this.heard?.(undefined);
      this.change({ phase: 'held', complaint: failure.message, isOver: true, time });
      return;
    }
    const { lamps, tones, currents } = this.parts;
    if (state !== undefined) {
      this.stateAt = now;
      const slower = elapsed > 0 ? this.pace.behind(this.drawing.rate) : undefined;
      this.change({ time, state, slower, lamps, tones, currents });
    } else if (isNew) this.change({ lamps });
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
