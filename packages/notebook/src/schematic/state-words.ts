import type { Drawing, PlacedSymbol } from './drawing.ts';
import type { LampState } from './lamps.ts';
import { isDrawnClosed } from './symbols.ts';

/** What a drawing shows of the state of its circuit. */
export interface DrawnState {
  /** Contacts that conduct, relays that are pulled in, buzzers that sound. */
  readonly closed: ReadonlySet<string>;
  readonly lamps: readonly LampState[];
  /** Voltages by net, as text. */
  readonly voltages: ReadonlyMap<string, string>;
}

/** What a drawing shows of the state, in sentences that follow its description: contacts, lamps, voltages of nets. */
export function stateWords({ symbols, names }: Drawing, { closed, lamps, voltages }: DrawnState): string {
  const named = (kept: (symbol: PlacedSymbol) => boolean): string =>
    symbols
      .filter(kept)
      .map(({ part, label }) => label ?? part)
      .join(', ');
  const isContact = ({ kind }: PlacedSymbol): boolean => isDrawnClosed(kind) && !kind.startsWith('relay');
  const isActive = ({ part, kind }: PlacedSymbol, ...kinds: string[]): boolean =>
    kinds.includes(kind) && closed.has(part);
  const isLit = ({ part }: PlacedSymbol): boolean => lamps.some((lamp) => lamp.part === part && lamp.light > 0);
  const lists = [
    ['Closed', named((symbol) => isContact(symbol) && closed.has(symbol.part))],
    ['Open', named((symbol) => isContact(symbol) && !closed.has(symbol.part))],
    ['Pulled in', named((symbol) => isActive(symbol, 'relay', 'solenoid'))],
    ['Sounding', named((symbol) => isActive(symbol, 'buzzer'))],
    ['Lit', named(isLit)],
    ['Voltages', names.flatMap(({ net }) => (voltages.has(net) ? `${net} ${voltages.get(net)}` : [])).join(', ')],
  ];
  return lists.flatMap(([title, list]) => (list === '' ? [] : ` ${title}: ${list}.`)).join('');
}
