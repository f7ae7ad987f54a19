import type { CellResult } from '@two-thirds/sim/document';
import type { ReactiveController, ReactiveControllerHost } from 'lit';
import type { Json } from '../edit/json.ts';
import {
  arrived,
  type CellStates,
  isFromBefore,
  outdated,
  partArrived,
  progressed,
  stateOf,
  stopped,
  waiting,
} from '../runtime/cell-state.ts';
import { batches } from '../runtime/batches.ts';
import { cellsOf, isDraggedAlong, type PageCell } from '../runtime/cells.ts';
import { staleCells } from '../runtime/dependence.ts';
import { isStudyCell } from '../runtime/study-cells.ts';
import { waitingWords } from '../runtime/waiting-words.ts';
import { withStudyQuotes } from '../runtime/study-quotes.ts';
import { SimulationClient, type StartWorker } from '../worker/client.ts';
import { startStudyWorker, studyWorkerCount } from '../worker/start.ts';
import { StudyClient } from '../worker/study-client.ts';
import type { CaptureFiles } from './capture-files.ts';
import { DetailDesk } from './detail-desk.ts';
import type { DrawingTurns } from './drawing-turns.ts';
import { ForeseenTurns } from './foreseen-turns.ts';
import { PromptResults } from './prompt-results.ts';
import { studyRequests } from './study-requests.ts';
import { VisitedDocuments } from './visited-documents.ts';
import { type Work, WorkUnderWay } from './work-under-way.ts';

/** Columns of a trace lane: about two for every pixel that a wide page gives to a trace. */
const COLUMNS = 1200;

/**
 * Keeps the results of a document's cells up to date: compares every new state of the document with the one before,
 * computes what depends on the change, and keeps the last good results until better ones come.
 */
export class RunController implements ReactiveController {
  /** The states of all cells. */
  states: CellStates = {};
  /** Why nothing could be computed, if that happened. */
  failure: string | undefined;

  private document: Json | undefined;
  private readonly visited = new VisitedDocuments();
  /** Whether the present state of the document was there before: undone, or done again. */
  private goesBack = false;
  /** Whether something is to be drawn that can wait. */
  private isUndrawn = false;
  private readonly host: ReactiveControllerHost & Element;
  private readonly client: SimulationClient;
  private readonly studies: StudyClient;
  private readonly work = new WorkUnderWay(() => this.host.requestUpdate());
  private readonly captures: CaptureFiles;
  private readonly turns: DrawingTurns;
  private readonly prompt: PromptResults;
  private readonly foreseen: ForeseenTurns;
  /** When the present computation was begun (ms). */
  private begun = 0;
  /** Told when all that somebody waited for is painted: what may come next can be foreseen. */
  onShown: () => void = () => undefined;

  /**
   * @param captures the files of measurements that the page has.
   * @param turns knows what is in sight: such cells are computed, and drawn, before others.
   * @param handOn gives cells that somebody waits for their states, before everything else is drawn.
   */
  constructor(
    host: ReactiveControllerHost & Element,
    startWorker: StartWorker,
    captures: CaptureFiles,
    turns: DrawingTurns,
    handOn: (ids: readonly string[]) => void,
  ) {
    this.host = host;
    this.turns = turns;
    this.prompt = new PromptResults(handOn, () => this.drawn());
    this.foreseen = new ForeseenTurns(startWorker, COLUMNS, (id) => this.isAwaited(id));
    this.captures = captures;
    captures.onRead = (cell) => this.read(cell);
    host.addController(this);
    host.addController(new DetailDesk(host, startWorker, () => this.document));
    const heard = {
      result: (id: string, result: CellResult, newest: boolean): void => {
        // What is computed from values before never replaces what is known of the present ones, nor shows once undone.
        if (!newest && (this.goesBack || stateOf(this.states, id).phase !== 'waiting')) return;
        if (this.failure !== undefined) this.host.requestUpdate();
        this.failure = undefined;
        this.take(arrived(this.states, id, result, newest));
        if (this.isAwaited(id)) {
          this.prompt.add(id);
          if (newest) this.foreseen.waited(performance.now() - this.begun);
        }
        this.drawLater();
      },
      progress: (id: string, share: number): void => {
        this.states = progressed(this.states, id, share);
        this.drawLater();
      },
      ready: (): void => {
        if (this.takesLong) this.drawLater();
      },
      failed: (message: string): void => {
        this.failure = message;
        this.stop();
      },
    };
    this.client = new SimulationClient(startWorker, { ...heard, settled: () => this.rest('cells') });
    this.studies = new StudyClient(startStudyWorker, studyWorkerCount(), {
      ...heard,
      part: (id, result) => {
        this.take(partArrived(this.states, id, result));
        this.drawLater();
      },
      settled: () => this.rest('studies'),
    });
  }

  /** Part of lit's controller contract: an element that leaves the page stops its work. */
  hostDisconnected(): void {
    this.client.stop();
    this.studies.stop();
    this.foreseen.clear();
    this.work.end();
  }

  /**
   * Tells that the document is now this one. What depends on the difference is computed again. To be called before or
   * while the page is drawn from it.
   */
  show(document: Json): void {
    if (document === this.document) return;
    const stale = staleCells(this.document, document);
    if (this.document !== undefined) this.foreseen.leave(this.document, this.states, stale);
    this.document = document;
    this.goesBack = this.visited.enter(document);
    const ids = cellsOf(document).map((cell) => cell.id);
    const left = waiting(this.states).some((id) => !ids.includes(id));
    const waits = outdated(this.states, stale, ids);
    this.states = this.foreseen.enter(document, waits, stale);
    if (this.states !== waits) this.prompt.await();
    // What is computed for a cell that has left the page is given up.
    if (stale.length > 0 || left) this.run();
  }

  /** Foresees what cells in sight will show once the document is one of these, if they are quickly computed. */
  foresee(documents: readonly Json[]): void {
    if (this.document !== undefined) this.foreseen.foresee(this.document, documents);
  }

  /** Forgets all results: another document is opened. */
  clear(): void {
    this.hostDisconnected();
    this.studies.clear();
    this.document = undefined;
    this.states = {};
    this.failure = undefined;
  }

  /** Stops what is being computed; the last good results stay. */
  stop(): void {
    this.client.stop();
    this.studies.stop();
    this.foreseen.stop();
    this.work.end();
    this.change(stopped(this.states));
  }

  /** Computes again what was stopped. */
  again(): void {
    const halted = Object.keys(this.states).filter((id) => stateOf(this.states, id).phase === 'stopped');
    this.states = outdated(this.states, halted, Object.keys(this.states));
    this.run();
    this.host.requestUpdate();
  }

  /** A measurement was read that a cell needs: the cell is computed anew. */
  private read(cell: string): void {
    const { document } = this;
    if (document === undefined) return;
    // One that got another name meanwhile still waits for it.
    if (cellsOf(document).some(({ id }) => id === cell)) {
      this.states = outdated(this.states, [cell], Object.keys(this.states));
    }
    if (waiting(this.states).length === 0) return;
    // What has one run is left alone: it would only begin anew.
    this.runStudies(document, JSON.stringify(document));
    this.host.requestUpdate();
  }

  /** Whether the present computation has taken longer than a blink. */
  get takesLong(): boolean {
    return this.work.takesLong;
  }

  /** Whether a cell shows results of earlier values, and it is time to say so. */
  saysFromBefore(id: string): boolean {
    const state = stateOf(this.states, id);
    return isFromBefore(state) && (state.phase !== 'waiting' || this.takesLong);
  }

  /** What a cell waits for, where that takes longer than a blink and is not told by its share; or why it was given up. */
  whyWithout(cell: PageCell): string | undefined {
    const { document, states } = this;
    const { phase, progress } = stateOf(states, cell.id);
    if (phase === 'stopped' && this.failure !== undefined) return 'not computed: the top of the page says why';
    if (document === undefined || !this.takesLong || phase !== 'waiting' || progress !== undefined) return undefined;
    const isStudy = isStudyCell(cell);
    const isUnread = isStudy && this.captures.stateOf(document, cell).what === 'reading';
    const awaited = isUnread ? 'measurement' : (isStudy ? this.studies : this.client).awaited(cell.id);
    return waitingWords(cell, cellsOf(document), awaited, (id) => stateOf(states, id).phase === 'waiting');
  }

  private run(): void {
    const { document } = this;
    if (document === undefined) return;
    this.work.begin('cells');
    this.begun = performance.now();
    const text = JSON.stringify(document);
    const studies = new Set(cellsOf(document).flatMap((cell) => (isStudyCell(cell) ? [cell.id] : [])));
    const others = waiting(this.states).filter((id) => !studies.has(id));
    const inSight = (id: string): boolean => this.turns.isInSight(id);
    const inOrder = batches(document, others, inSight, this.foreseen.isQuick);
    this.client.run({ text, batches: inOrder, columns: COLUMNS });
    this.runStudies(document, text);
  }

  private runStudies(document: Json, text: string): void {
    const ids = waiting(this.states);
    this.work.begin('studies');
    this.studies.run(text, studyRequests(document, ids, this.captures));
  }

  /** Nothing is left to do for the cells with one run each, or for the studies. */
  private rest(work: Work): void {
    if (this.work.rest(work)) this.drawLater();
  }

  private change(states: CellStates): void {
    this.take(states);
    this.host.requestUpdate();
  }

  private take(states: CellStates): void {
    this.states = this.document === undefined ? states : withStudyQuotes(this.document, states);
  }

  /** Draws what has come when the page has time. */
  drawLater(): void {
    if (this.isUndrawn) return;
    this.isUndrawn = true;
    void this.turns.turn(this.host).then(() => {
      if (this.isUndrawn) this.host.requestUpdate();
    });
  }

  /** Part of lit's controller contract: all that has come is drawn. */
  hostUpdated(): void {
    this.keepFree();
    if (!this.isUndrawn) return;
    this.isUndrawn = false;
    this.turns.call(this.host);
  }

  /** Whether somebody waits for a result that has not come, or is not drawn. */
  private get isLookedFor(): boolean {
    return this.prompt.isUnpainted || waiting(this.states).some((id) => this.isAwaited(id));
  }

  /** All that was handed on is drawn, and about to be painted. */
  private drawn(): void {
    this.keepFree();
    if (!this.isLookedFor) setTimeout(() => this.onShown());
  }

  /** What follows from a knob in second place leaves the page free for what comes of it in first place. */
  private keepFree(): void {
    if (this.isLookedFor) this.turns.hold();
    else this.turns.release();
  }

  /** Whether a cell in sight is dragged along by a knob. */
  private isAwaited(id: string): boolean {
    const cell = cellsOf(this.document ?? null).find((each) => each.id === id);
    return isDraggedAlong(cell) && this.turns.isInSight(id);
  }
}
