import type { Guard } from '../device/contract.ts';
import type { RunEvent } from '../trace/event.ts';
import type { Frame, SignalTable } from '../trace/frame.ts';
import type { Observer, Periods } from '../trace/observer.ts';
import { Stretch } from '../trace/stretch.ts';
import type { Situation } from './situation.ts';
import type { Succession } from './succession.ts';

/**
 * Where a run stands, for those who show it: the situation, which began at `time + timeLow`; its state then, also as
 * amplitudes; and how far in it the run has got and has been shown (s). Read off in place: numbers handed over one by one
 * would each take memory.
 */
export interface Moment {
  readonly situation: Situation | undefined;
  readonly z: Float64Array;
  readonly amplitudes: Float64Array;
  readonly time: number;
  readonly timeLow: number;
  readonly elapsed: number;
  readonly shown: number;
}

/** Shows a run to its observers. */
export class Audience {
  /** Whether anybody watches segments, or events: what nobody sees is not worked out. */
  readonly seesSegments: boolean;
  readonly seesEvents: boolean;
  /** Whether anybody asks how well the times of crossings are known. */
  readonly seesCrossings: boolean;
  private readonly forSegments: readonly Observer[];
  private readonly forEvents: readonly Observer[];
  /** Those that are told of other pieces as well. */
  private readonly forPieces: readonly Observer[];
  private readonly forCrossings: readonly Observer[];
  /** How the observers are told of periods; undefined if one of them has to be shown everything. */
  readonly periods: readonly Periods[] | undefined;
  private readonly view = new Stretch();

  constructor(
    private readonly all: readonly Observer[],
    signals: SignalTable,
  ) {
    this.forSegments = all.filter((observer) => observer.segment !== undefined);
    this.forEvents = all.filter((observer) => observer.event !== undefined);
    this.forPieces = this.forEvents.filter((observer) => observer.ignoresPieces !== true);
    this.forCrossings = all.filter((observer) => observer.crossing !== undefined);
    this.seesSegments = this.forSegments.length > 0;
    this.seesCrossings = this.forCrossings.length > 0;
    this.seesEvents = this.forEvents.length > 0 || this.seesCrossings;
    const watching = all.filter((observer) => {
      return observer.segment !== undefined || observer.event !== undefined || observer.crossing !== undefined;
    });
    const periods = watching.flatMap((observer) => observer.periods ?? []);
    this.periods = periods.length === watching.length ? periods : undefined;
    for (const observer of all) observer.begin?.(signals);
  }

  /** Shows the time from what has been shown up to where the run has got. */
  segment(moment: Moment): void {
    const { amplitudes, time, timeLow, shown: from } = moment;
    const situation = moment.situation!;
    const { rates, stateCount: n } = situation;
    const view = this.view;
    view.start = time;
    view.startLow = timeLow;
    view.length = moment.elapsed - from;
    view.frame = situation.frame;
    if (view.amplitudes.length < n) view.amplitudes = new Float64Array(n);
    if (from === 0) for (let k = 0; k < n; k++) view.amplitudes[k] = amplitudes[k]!;
    else {
      const step = from + timeLow;
      view.start = time + step;
      view.startLow = step - (view.start - time);
      view.frame = shifted(situation.frame, from);
      for (let k = 0; k < n; k++) view.amplitudes[k] = amplitudes[k]! * Math.exp(-rates[k]! * from);
    }
    view.next();
    const observers = this.forSegments;
    for (let i = 0; i < observers.length; i++) observers[i]!.segment!(view);
  }

  /** Shows what an event did, which the guard `fired` has set off: what a reactor recorded, or the part and kind. */
  event(succession: Succession, fired: number, moment: Moment): void {
    const { part, reaction, kind, snap } = succession;
    const { time, timeLow } = moment;
    if (snap) return this.tell({ time, timeLow, part, kind, snap });
    if (!reaction) {
      if (this.forPieces.length > 0) tell(this.forPieces, { time, timeLow, part, kind });
      return;
    }
    const guard = moment.situation!.guards[fired]?.guard;
    for (let index = 0; index < reaction.records.length; index++) {
      const { kind: done, cause, fault } = reaction.records[index]!;
      if (index === 0 && guard) {
        const { value, limit } = seen(guard, moment);
        this.tell(
          fault
            ? { time, timeLow, part, kind: done, value, limit, fault }
            : { time, timeLow, part, kind: done, value, limit },
        );
      } else if (fault) this.tell({ time, timeLow, part, kind: done, fault });
      else if (cause === undefined) this.tell({ time, timeLow, part, kind: done });
      else this.tell({ time, timeLow, part, kind: done, cause });
    }
  }

  /** Shows a crossing that a reactor answers to, and by how much its time may be off (s). */
  crossing({ part, reaction }: Succession, offBy: number, { time, timeLow }: Moment): void {
    const kind = reaction?.records[0]?.kind;
    if (kind === undefined) return;
    for (const observer of this.forCrossings) observer.crossing!({ part, kind, time, timeLow, offBy });
  }

  /** Tells everybody that the run is over. */
  end(time: number): void {
    for (const observer of this.all) observer.end?.(time);
  }

  private tell(event: RunEvent): void {
    tell(this.forEvents, event);
  }
}

function tell(observers: readonly Observer[], event: RunEvent): void {
  for (let i = 0; i < observers.length; i++) observers[i]!.event!(event);
}

/** What a guard that fires sees (V or A), and the limit that it has met. */
function seen({ watch, offset }: Guard, { situation, z, elapsed }: Moment): { value: number; limit: number } {
  const at = situation!;
  const { nodes, branchCurrents } = at.mode;
  if ('branch' in watch) {
    return { value: at.valueOf(branchCurrents.at(watch.branch), z, elapsed), limit: watch.sign * offset };
  }
  const plus = at.valueOf(nodes.at(watch.plus), z, elapsed);
  const minus = at.valueOf(nodes.at(watch.minus), z, elapsed);
  switch (watch.seen) {
    case 'plus':
      return { value: plus, limit: minus + offset };
    case 'minus':
      return { value: minus, limit: plus - offset };
    case 'plus above minus':
      return { value: plus - minus, limit: offset };
    case 'minus above plus':
      return { value: minus - plus, limit: -offset };
  }
}

/** The frame seen from a later origin of local time. */
function shifted(frame: Frame, by: number): Frame {
  frame.need?.();
  if (frame.slopes.every((slope) => slope === 0)) return frame;
  const { rates, rows, slopes } = frame;
  return { rates, rows, slopes, constants: frame.constants.map((constant, i) => constant + slopes[i]! * by) };
}
