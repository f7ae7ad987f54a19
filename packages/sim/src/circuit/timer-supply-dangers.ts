import { type CircuitView, exactText, roundedText, summedText } from './circuit-view.ts';
import type { Part } from './description.ts';
import { pinMargin } from './part-limits.ts';

/** Up to here resistance in the way of a timer's supply hardly lowers it (Ω): 1 V at 1 mA; a judgement, no source. */
const SERIES_RESISTANCE = 1000;

const TOO_LOW_END = ' needs.';

/** Parts that may keep an input from following its source. */
const CLAMPS = new Set(['diode', 'led', 'transistor']);

/** Whether a danger says no more than that a timer has less supply than it needs, which damages nothing. */
export function isOnlyLow(danger: string): boolean {
  return danger.endsWith(TOO_LOW_END);
}

/** Timers whose supply is reversed, which comes before anything else. */
export function reversedSupplies(view: CircuitView): string[] {
  return view
    .ofKind('timer')
    .filter((part) => isReversed(view, part))
    .map(({ name }) => `${name}: the supply is reversed, which destroys a timer.`);
}

function isReversed(view: CircuitView, { name, nets }: Part): boolean {
  const { supply = '', ground = '' } = nets;
  const held = view.held.between(view.held.behind(supply), view.held.behind(ground));
  if (held !== undefined) return held.low < 0;
  return view.across(name, ground, supply) > 0 && view.across(name, supply, ground) === 0;
}

/** Timers whose supply leaves the range of their family, and inputs that are driven beyond the supply. */
export function timerSupplyDangers(view: CircuitView): string[] {
  return view.ofKind('timer').flatMap((part) => [...rangeDangers(view, part), ...inputDangers(view, part)]);
}

function rangeDangers(view: CircuitView, part: Part): string[] {
  const { name, nets, values } = part;
  const { supply = '', ground = '' } = nets;
  const { supplyMinimum = 0, supplyMaximum = Infinity } = values.parameters as Partial<Record<string, number>>;
  const made = `a timer of the family ${String(values.family)}`;
  const above = `above the ${exactText(supplyMaximum, 'V')} that ${made} bears.`;
  const below = `below the ${exactText(supplyMinimum, 'V')} that ${made}${TOO_LOW_END}`;
  const held = view.held.between(view.held.behind(supply), view.held.behind(ground));
  if (held === undefined) {
    const link = {
      part: name,
      from: supply,
      to: ground,
      resistance: 0,
      drop: 0,
      most: Infinity,
      through: 'other',
    } as const;
    const path = view.paths.through(link, 0);
    if (path === undefined) return [];
    const reached = path.voltage - path.drop;
    const volts = roundedText(reached, 'V');
    if (reached < supplyMinimum) return [`${name}: the supply can reach ${volts} at most, ${below}`];
    if (reached > supplyMaximum && path.resistance <= SERIES_RESISTANCE) {
      return [`${name}: the supply can reach ${volts}, ${above}`];
    }
    return [];
  }
  const { high, low, lowWhenOn } = held;
  return [
    ...(high > supplyMaximum ? [`${name}: the supply reaches ${summedText(high, 'V')}, ${above}`] : []),
    ...(low >= 0 && lowWhenOn < supplyMinimum
      ? [`${name}: the supply is as low as ${summedText(lowWhenOn, 'V')}, ${below}`]
      : []),
  ];
}

/** The held net that drives an input: a source straight at it that no diode clamps, or the only one it is joined to. */
function driverOf({ held, paths, circuit }: CircuitView, net: string, timer: string): string | undefined {
  const clamped = circuit.parts.some(({ kind, nets }) => CLAMPS.has(kind) && Object.values(nets).includes(net));
  const straight = held.behind(net);
  return straight !== net && !clamped ? straight : paths.onlyFeeder(net, timer);
}

/** Only inputs that a single source drives, straight or through something: what a divider makes, a run tells. */
function inputDangers(view: CircuitView, { name, nets, values }: Part): string[] {
  const [supply, ground] = [view.held.behind(nets.supply ?? ''), view.held.behind(nets.ground ?? '')];
  const family = String(values.family);
  const margin = pinMargin(family);
  // With a supply that is reversed or not held, there is nothing to hold the inputs against.
  if ((view.held.between(supply, ground)?.low ?? -1) < 0) return [];
  return ['trigger', 'threshold', 'control', 'reset'].flatMap((pin) => {
    const driver = driverOf(view, nets[pin] ?? '', name);
    if (driver === undefined) return [];
    const above = view.held.between(driver, supply)?.high ?? 0;
    const under = view.held.between(ground, driver)?.high ?? 0;
    const told = (volts: number, where: string): string =>
      `${name}: ${pin.toUpperCase()} is driven up to ${roundedText(volts, 'V')} ${where}; a timer of the family ${family} bears ${exactText(margin, 'V')} there.`;
    return [
      ...(above > margin ? [told(above, 'above the supply')] : []),
      ...(under > margin ? [told(under, 'below ground')] : []),
    ];
  });
}
