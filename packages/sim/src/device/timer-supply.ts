import type { DeviceHost, Piece } from './contract.ts';
import { always, fadingCurrent, OPEN } from './pieces.ts';
import type { TimerParameters } from './timer-parameters.ts';

/** Volts over which the supply current fades at the bottom of the supply; from memory. */
const SUPPLY_HEADROOM = 1;

/** Branches, with the pieces they take for a low and for a high output. */
export interface Follower {
  readonly branch: number;
  readonly low: number;
  readonly high: number;
}

/** A branch that carries a current for a short time after each change of the output, with its pieces. */
export interface Spike {
  readonly branch: number;
  readonly idle: number;
  readonly flowing: number;
}

/** Nodes of a timer's supply and ground pins. */
interface SupplyPins {
  readonly supply: number;
  readonly ground: number;
}

/** The current that the timer itself takes, by the level of its output. */
export function buildSupplyCurrent(
  part: string,
  host: DeviceHost,
  p: TimerParameters,
  pins: SupplyPins,
  high: boolean,
): Follower[] {
  const pieces: Piece[] = [];
  const full = [p.supplyCurrentLow, p.supplyCurrentHigh].map((current) => {
    pieces.push(...(current > 0 ? fadingCurrent(pieces.length, current, SUPPLY_HEADROOM) : always(OPEN)));
    return pieces.length - 1;
  }) as [number, number];
  if (pieces.length === 2) return [];
  const branch = host.branch({
    part,
    a: pins.supply,
    b: pins.ground,
    pieces,
    start: high ? full[1] : full[0],
  });
  return [{ branch, low: full[0], high: full[1] }];
}

/**
 * The charge that goes straight from supply to ground while both halves of the output stage conduct, as a constant current
 * for the time it takes; none where the charge is 0. Both halves are one path, so a change that comes while the current of
 * the one before still flows makes it flow longer, not stronger (decision 9).
 */
export function buildSpike(part: string, host: DeviceHost, p: TimerParameters, pins: SupplyPins): Spike | undefined {
  if (p.transitionCharge === 0) return undefined;
  const pieces = [...always(OPEN), ...fadingCurrent(1, p.transitionCharge / p.transitionTime, SUPPLY_HEADROOM)];
  const branch = host.branch({ part, a: pins.supply, b: pins.ground, pieces, start: 0 });
  return { branch, idle: 0, flowing: 3 };
}
