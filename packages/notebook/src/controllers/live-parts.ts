import type { PartRow } from '@two-thirds/sim/document';
import type { LightSample, ShownLight } from '../runtime/lamp-light.ts';
import type { LampLights } from '../runtime/lamp-lights.ts';
import type { LiveReport } from '../runtime/live-protocol.ts';
import { RiseMeter, risesOf } from '../runtime/rise-meter.ts';
import { lampStates } from '../schematic/lamps.ts';

/** What lamps, loudspeakers and outputs of a run by hand show at present. */
export class LiveParts {
  /** How bright every lamp is shown. */
  lamps: ReadonlyMap<string, ShownLight> = new Map();
  /** How often loudspeakers and outputs go up and down (Hz in the circuit). */
  tones: ReadonlyMap<string, number> = new Map();
  /** Mean currents in the last slice (A). */
  currents: Readonly<Record<string, number>> = {};
  private readonly lights: LampLights;
  private readonly meters = new Map<string, RiseMeter>();

  /** @param lights how lamps are shown, for all that shows these. */
  constructor(lights: LampLights) {
    this.lights = lights;
  }

  /**
   * Takes in a slice; true where a lamp is shown otherwise than before.
   *
   * @param elapsed how long the slice took here (s); 0 while time is held.
   * @param now page time (s).
   */
  take(report: LiveReport, elapsed: number, now: number, board: readonly PartRow[], calm: boolean): boolean {
    this.currents = Object.fromEntries(report.parts.map(({ part, current }) => [part, current]));
    const samples = lampStates(board, this.currents).map(({ part, light }): [string, LightSample] => {
      const slice = report.parts.find((each) => each.part === part);
      const { rises = 0, firstRise = 0, lastRise = 0 } = slice ?? {};
      return [part, { now, elapsed, light, rises, firstRise, lastRise }];
    });
    this.listen(report, now);
    return elapsed > 0 ? this.show(this.lights.pass(new Map(samples), calm)) : this.rest(now, board);
  }

  /** Lets lamps get to where they belong while time is held; true where one is shown otherwise than before. */
  rest(now: number, board: readonly PartRow[]): boolean {
    const lights = lampStates(board, this.currents).map(({ part, light }): [string, number] => [part, light]);
    return this.show(this.lights.rest(now, new Map(lights)));
  }

  /** Forgets the run: another begins. Lamps still may not flash, so how they were shown is kept. */
  forget(): void {
    this.meters.clear();
    this.tones = new Map();
  }

  private show(lamps: ReadonlyMap<string, ShownLight>): boolean {
    const isNew = [...lamps].some(([part, { light, steady }]) => {
      const before = this.lamps.get(part);
      return before?.light !== light || before.steady !== steady;
    });
    this.lamps = lamps;
    return isNew;
  }

  private listen({ parts, outputs, buzzers = [] }: LiveReport, now: number): void {
    const tones = [
      ...parts.map(({ part, ...rises }) => [part, this.meter(part).take(now, rises)] as const),
      ...[...outputs, ...buzzers].map(
        ({ timer, changes, high }) => [timer, this.meter(timer).take(now, risesOf(changes, high))] as const,
      ),
    ];
    this.tones = new Map(tones.flatMap(([part, tone]) => (tone === undefined ? [] : [[part, tone] as const])));
  }

  private meter(part: string): RiseMeter {
    const meter = this.meters.get(part) ?? new RiseMeter();
    this.meters.set(part, meter);
    return meter;
  }
}
