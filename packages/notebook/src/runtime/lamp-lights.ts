import { FlashLedger } from './flash-ledger.ts';
import { LampLight, type LightSample, RISES, type ShownLight } from './lamp-light.ts';

/** Within how many seconds of page time four rises make a flashing too fast to be shown: 2.5 a second. */
const TOO_FAST = 1.2;
/** The same rises within more than this (s) are slow enough to be shown again. */
const SLOW_AGAIN = 1.7;
/** Lamps whose rates differ by less than this share are shown alike: of two that alternate, not one steady and one not. */
const ALIKE = 0.2;

/**
 * Decides how bright every lamp of a page is shown, so that all of them together never flash more than three times a
 * second (see {@link FlashLedger}), whatever they do in the circuit and however its time is scaled. The slowest lamps are
 * shown as they flash, as many as there is room for; the others stand in their mean light.
 */
export class LampLights {
  private readonly ledger = new FlashLedger();
  private readonly lamps = new Map<string, LampLight>();

  /** Takes in one frame of every lamp, by its name. @param calm whether all are to be steady however slowly they flash. */
  pass(samples: ReadonlyMap<string, LightSample>, calm: boolean): Map<string, ShownLight> {
    for (const [name, sample] of samples) this.lamp(name).hear(sample);
    const flashing = this.flashing([...samples.keys()]);
    return new Map(
      [...samples].map(([name, { now, light }]) => {
        const lamp = this.lamp(name);
        lamp.isTooFast = !flashing.has(name);
        return [name, lamp.show(now, light, calm || lamp.isTooFast)];
      }),
    );
  }

  /** The lamps while no time passes in the circuit. @param now page time (s). */
  rest(now: number, lights: ReadonlyMap<string, number>): Map<string, ShownLight> {
    return new Map([...lights].map(([name, light]) => [name, this.lamp(name).rest(now, light)]));
  }

  /** The lamps that may be shown as they flash. */
  private flashing(names: readonly string[]): ReadonlySet<string> {
    const slowestFirst = names.map((name) => this.lamp(name)).sort(slowerFirst);
    let taken: ReadonlyMap<number, number> = new Map();
    const shown = new Set<LampLight>();
    for (const group of groupsAlike(slowestFirst)) {
      const all = group.reduce((rises, lamp) => together(rises, lamp.rises), taken);
      const least = group.some((lamp) => lamp.isTooFast) ? SLOW_AGAIN : TOO_FAST;
      if (shortest(all) < least) break;
      taken = all;
      for (const lamp of group) shown.add(lamp);
    }
    return new Set(names.filter((name) => shown.has(this.lamp(name))));
  }

  private lamp(name: string): LampLight {
    const lamp = this.lamps.get(name) ?? new LampLight(this.ledger);
    this.lamps.set(name, lamp);
    return lamp;
  }
}

/** Those without a known period are the slowest, and as slow as each other. */
function slowerFirst({ period: one }: LampLight, { period: other }: LampLight): number {
  return one === other ? 0 : other - one;
}

/** Neighbours in an order from slow to fast that flash about as fast as the first of them. */
function groupsAlike(slowestFirst: readonly LampLight[]): LampLight[][] {
  const groups: LampLight[][] = [];
  for (const lamp of slowestFirst) {
    const group = groups.at(-1);
    const first = group?.[0];
    if (
      group !== undefined &&
      first !== undefined &&
      (first.period === lamp.period || lamp.period > first.period * (1 - ALIKE))
    ) {
      group.push(lamp);
    } else groups.push([lamp]);
  }
  return groups;
}

/** Rises of several lamps by page time (s) and how many: those of one frame are seen as one. */
function together(counts: ReadonlyMap<number, number>, rises: readonly number[]): ReadonlyMap<number, number> {
  const own = new Map<number, number>();
  for (const time of rises) own.set(time, (own.get(time) ?? 0) + 1);
  const all = new Map(counts);
  for (const [time, count] of own) all.set(time, Math.max(count, all.get(time) ?? 0));
  return all;
}

/** The shortest time in which as many rises lie as make a flashing known (s). */
function shortest(counts: ReadonlyMap<number, number>): number {
  const times = [...counts].flatMap(([time, count]) => new Array<number>(count).fill(time)).sort((a, b) => a - b);
  const spans = times.slice(RISES - 1).map((time, index) => time - (times[index] ?? time));
  return Math.min(Infinity, ...spans);
}
