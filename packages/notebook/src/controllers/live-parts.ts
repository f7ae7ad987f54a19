import type { PartRow } from '@two-thirds/sim/document';
import { LampLight, type ShownLight } from '../runtime/lamp-light.ts';
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
  private readonly lights = new Map<string, LampLight>();
  private readonly meters = new Map<string, RiseMeter>();

  /**
   * Takes in a slice; true where a lamp is shown otherwise than before.
   *
   * @param elapsed how long the slice took here (s); 0 while time is held.
   * @param now page time (s).
   */
  take(report: LiveReport, elapsed: number, now: number, board: readonly PartRow[], calm: boolean): boolean {
    this.currents = Object.fromEntries(report.parts.map(({ part, current }) => [part, current]));
    const lamps = lampStates(board, this.currents).map(({ part, light }) => {
      const slice = report.parts.find((each) => each.part === part);
      const { rises = 0, firstRise = 0, lastRise = 0 } = slice ?? {};
      const lamp = this.light(part);
      const shown =
        elapsed > 0 ? lamp.pass({ now, elapsed, light, rises, firstRise, lastRise }, calm) : lamp.rest(now, light);
      return [part, shown] as const;
    });
    this.listen(report, now);
    return this.show(lamps);
  }

  /** Lets lamps get to where they belong while time is held; true where one is shown otherwise than before. */
  rest(now: number, board: readonly PartRow[]): boolean {
    const lamps = lampStates(board, this.currents).map(
      ({ part, light }) => [part, this.light(part).rest(now, light)] as const,
    );
    return this.show(lamps);
  }

  /** Forgets the run: another begins. Lamps still may not flash, so how they were shown is kept. */
  forget(): void {
    this.meters.clear();
    this.tones = new Map();
  }

  private show(lamps: readonly (readonly [string, ShownLight])[]): boolean {
    const isNew = lamps.some(([part, { light, steady }]) => {
      const before = this.lamps.get(part);
      return before?.light !== light || before.steady !== steady;
    });
    this.lamps = new Map(lamps);
    return isNew;
  }

  private listen({ parts, outputs }: LiveReport, now: number): void {
    const tones = [
      ...parts.map(({ part, ...rises }) => [part, this.meter(part).take(now, rises)] as const),
      ...outputs.map(
        ({ timer, changes, high }) => [timer, this.meter(timer).take(now, risesOf(changes, high))] as const,
      ),
    ];
    this.tones = new Map(tones.flatMap(([part, tone]) => (tone === undefined ? [] : [[part, tone] as const])));
  }

  private light(part: string): LampLight {
    const light = this.lights.get(part) ?? new LampLight();
    this.lights.set(part, light);
    return light;
  }

  private meter(part: string): RiseMeter {
    const meter = this.meters.get(part) ?? new RiseMeter();
    this.meters.set(part, meter);
    return meter;
  }
}
