import type { Course } from './one-state-course.ts';
import type { BeatClock } from './one-state-clock.ts';
import type { CycleCounter, EdgeTeller } from './one-state-edges.ts';
import { NONE } from './one-state-found.ts';
import type { Place } from './one-state-place.ts';

/** Turns that are remembered, at most; as many may follow each other before a run repeats itself, or all are forgotten. */
const MOST_TURNS = 16;
/** Edges of a turn that are remembered; one with more is gone through again. */
const MOST_EDGES = 16;

/** Edges of one instant of a turn, by how many stretches of the input and how long (s) they come after its beginning. */
class TurnEdges {
  stretch = 0;
  after = 0.5;
  changed = 0;
  highs = 0;
  /** Edges of the first signal since those before. */
  rises = 0;
  falls = 0;
}

/** How a run stands when a turn of it begins, and all that happens until the next one does. */
export class Turn {
  now = 0.5;
  corner = 0.5;
  place: Place | undefined;
  z = 0.5;
  from = 0.5;
  end = 0.5;
  ending = NONE;
  last = 0.5;
  /** The turn that follows; undefined where that is not known yet. */
  next: Turn | undefined;
  events = 0;
  /** How long it is: so many stretches of the input, or without one so long (s). */
  stretches = 0;
  length = 0.5;
  /** Edges of the first signal after the last of another one. */
  rises = 0;
  falls = 0;
  count = 0;
  readonly edges: TurnEdges[] = [];

  /** Whether a run stands as it did when this turn began. */
  begins(clock: BeatClock, course: Course): boolean {
    if (this.z !== course.z || this.place !== course.place || this.from !== course.from) return false;
    if (this.end !== course.end || this.ending !== course.ending || this.last !== course.last) return false;
    return this.now === clock.now && this.corner === clock.corner;
  }

  /** Notes how a run stands; what follows is to come. */
  begin(clock: BeatClock, course: Course): void {
    this.now = clock.now;
    this.corner = clock.corner;
    this.place = course.place;
    this.z = course.z;
    this.from = course.from;
    this.end = course.end;
    this.ending = course.ending;
    this.last = course.last;
    this.next = undefined;
  }

  /** Makes a run stand as it did when this turn began. */
  restore(clock: BeatClock, course: Course): void {
    clock.now = this.now;
    clock.corner = this.corner;
    clock.raised = clock.beat !== undefined && this.corner === clock.beat.width;
    course.place = this.place!;
    course.z = this.z;
    course.from = this.from;
    course.end = this.end;
    course.ending = this.ending;
    course.last = this.last;
    course.count++;
  }
}

/**
 * Notices that a run on the short way comes to stand as it did before, bit for bit: what follows is then known, and only has to
 * be told again. A turn begins with a stretch of the input before which an edge was told, or without a beat wherever
 * the state comes under another law; with no event waiting, so that place and course are all there is.
 */
export class Turns {
  /** Events of the run so far, and how many it may have. */
  events = 0;
  maxEvents = 0;
  /** Whether the run has come to its end by turns that were known. */
  over = false;
  private cycles: CycleCounter | undefined;
  private readonly turns: Turn[] = [];
  private kept = 0;
  /** The turn that is being gone through for the first time, and how things stood when it began. */
  private current: Turn | undefined;
  private stretch = 0;
  private eventsBefore = 0;
  private risesBefore = 0;
  private fallsBefore = 0;
  private toldBefore = 0;

  constructor(
    private readonly clock: BeatClock,
    private readonly course: Course,
    private readonly edges: EdgeTeller,
  ) {}

  /** Forgets all: with another beat there are other turns. */
  clear(maxEvents: number, cycles: CycleCounter | undefined): void {
    this.cycles = cycles;
    this.events = 0;
    this.maxEvents = maxEvents;
    this.over = false;
    this.kept = 0;
    this.current = undefined;
    this.toldBefore = -1;
  }

  /** Edges are about to be told, that of the first signal being counted already. */
  note(changed: number): void {
    const { current, clock, edges } = this;
    if (current === undefined) return;
    if (current.count >= MOST_EDGES) {
      this.current = undefined;
      return;
    }
    const noted = (current.edges[current.count++] ??= new TurnEdges());
    noted.stretch = clock.stretch - this.stretch;
    noted.after = clock.now;
    noted.changed = changed;
    noted.highs = edges.highs;
    noted.rises = edges.rises - this.risesBefore;
    noted.falls = edges.falls - this.fallsBefore;
    this.risesBefore = this.fallsBefore = 0;
  }

  /** Looks whether a turn begins now that a stretch has begun, and goes on by as many turns as are known. */
  stretchBegins(): void {
    const { clock, edges } = this;
    if (clock.beat !== undefined && edges.told === this.toldBefore) return;
    if (clock.base < edges.since) return;
    let turn = this.begin();
    const { current } = this;
    if (current !== undefined) {
      current.next = turn;
      current.events = this.events - this.eventsBefore;
      current.stretches = clock.stretch - this.stretch;
      current.length = clock.passed;
      current.rises = edges.rises - this.risesBefore;
      current.falls = edges.falls - this.fallsBefore;
    }
    if (turn.next !== undefined) turn = this.repeat(turn);
    if (turn.next === undefined) {
      turn.count = 0;
      this.current = turn;
    } else this.current = undefined;
    this.stretch = clock.stretch;
    this.eventsBefore = this.events;
    this.risesBefore = edges.rises;
    this.fallsBefore = edges.falls;
    this.toldBefore = edges.told;
  }

  /** Goes on by turns that are known, as long as there is time for them; the turn that begins then. */
  private repeat(first: Turn): Turn {
    const { clock, course, edges } = this;
    this.countCycles(first);
    let turn = first;
    let { next } = first;
    while (next !== undefined && this.events + turn.events <= this.maxEvents && this.hasTimeFor(turn)) {
      if (!this.goOnBy(turn)) {
        this.over = true;
        return turn;
      }
      turn = next;
      ({ next } = turn);
    }
    edges.highs = turn.place!.highs;
    turn.restore(clock, course);
    return turn;
  }

  /** Where the rest is not counted, it need not be gone through either. */
  private hasTimeFor(turn: Turn): boolean {
    return this.cycles === undefined ? this.clock.hasTimeFor(turn) : this.clock.hasStretchesFor(turn.stretches);
  }

  /** Counts the times that a run goes through the same turns, beginning and ending with this one, but for three at most. */
  private countCycles(first: Turn): void {
    const { clock, cycles } = this;
    if (cycles === undefined || clock.beat === undefined) return;
    let stretches = 0;
    let events = 0;
    let turn: Turn | undefined = first;
    do {
      stretches += turn.stretches;
      events += turn.events;
      turn = turn.next;
    } while (turn !== undefined && turn !== first);
    if (turn === undefined) return;
    const times = Math.min(clock.timesFor(stretches), Math.floor((this.maxEvents - this.events) / events)) - 2;
    if (times < 1) return;
    for (const again of [false, true]) {
      if (again) cycles.begin();
      do {
        this.goOnBy(turn);
        turn = turn.next!;
      } while (turn !== first);
    }
    cycles.again(times);
    this.events += times * events;
    clock.passOver(times * stretches);
  }

  /** Tells all that happens in a turn; false where the run is over by then. */
  private goOnBy(turn: Turn): boolean {
    const { clock, edges } = this;
    for (let i = 0; i < turn.count; i++) {
      const { stretch, after, rises, falls, changed, highs } = turn.edges[i]!;
      edges.at = clock.start(stretch) + after;
      if (edges.at >= clock.until) return false;
      edges.rises += rises;
      edges.falls += falls;
      edges.tell(changed, highs);
    }
    edges.rises += turn.rises;
    edges.falls += turn.falls;
    this.events += turn.events;
    clock.passTurn(turn);
    return clock.left > 0;
  }

  /** The turn that begins as the run stands, an old one or a new one. */
  private begin(): Turn {
    const { turns, clock, course } = this;
    for (let i = 0; i < this.kept; i++) if (turns[i]!.begins(clock, course)) return turns[i]!;
    if (this.kept === MOST_TURNS) {
      // None of those that are known may lead to one whose room is taken by another.
      this.kept = 0;
      this.current = undefined;
    }
    const turn = (turns[this.kept++] ??= new Turn());
    turn.begin(clock, course);
    return turn;
  }
}
