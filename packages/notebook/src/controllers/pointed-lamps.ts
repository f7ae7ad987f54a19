import type { ReactiveController, ReactiveControllerHost } from 'lit';
import type { LampLights } from '../runtime/lamp-lights.ts';
import type { LampState } from '../schematic/lamps.ts';

/** When a lamp that may not turn yet is tried again (ms). */
const PAUSE = 150;

/**
 * The lamps at a cursor, which may be drawn through a trace as fast as a hand moves, or stand while a knob is turned: they
 * flash no more than those of a run by hand, and come to what they are when the movement ends.
 */
export class PointedLamps implements ReactiveController {
  private readonly host: ReactiveControllerHost;
  private readonly lights: LampLights;
  private again: ReturnType<typeof setTimeout> | undefined;
  private last: { readonly board: string; readonly lamps: readonly LampState[] } | undefined;

  constructor(host: ReactiveControllerHost, lights: LampLights) {
    this.host = host;
    this.lights = lights;
    host.addController(this);
  }

  /** Part of lit's controller contract. */
  hostDisconnected(): void {
    clearTimeout(this.again);
  }

  /**
   * The lamps as they may be shown now.
   *
   * @param lamps as they are; `undefined` while that is still being computed: they stay as they were, not dark.
   */
  show(board: string, lamps: readonly LampState[] | undefined): readonly LampState[] {
    if (lamps === undefined) return this.last?.board === board ? this.last.lamps : [];
    const now = performance.now() / 1000;
    const shown = this.lights.rest(now, new Map(lamps.map(({ part, light }) => [part, light])));
    const lit = lamps.map((lamp) => ({ ...lamp, light: shown.get(lamp.part)?.light ?? 0 }));
    clearTimeout(this.again);
    if (lit.some(({ light }, index) => light !== lamps[index]?.light)) {
      this.again = setTimeout(() => this.host.requestUpdate(), PAUSE);
    }
    this.last = { board, lamps: lit };
    return lit;
  }
}
