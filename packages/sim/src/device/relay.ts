import type { Part } from '../circuit/description.ts';
import { type Bounce, reboundsByHand } from './bounce.ts';
import type { Device, DeviceHost } from './contract.ts';
import { limitWatch } from './limit-watch.ts';
import { always, OPEN, thevenin } from './pieces.ts';
import { type ContactBranches, relayReactor } from './relay-armature.ts';
import { onTimeWatch } from './on-time-watch.ts';

/** Pieces of a contact's branch. */
const APART = 0;
const TOUCHING = 1;

/** The winding alone. */
export const solenoid: Device = {
  kind: 'solenoid',
  build(part, host) {
    build(part, host, {}, []);
  },
};

/** A winding and the contact that follows it. */
export const relay: Device = {
  kind: 'relay',
  build(part, host) {
    const { common, normallyOpen, normallyClosed } = part.nets;
    if (common === undefined) return build(part, host, {}, []);
    const { contactResistance, insulation } = part.values as Record<string, number>;
    const contact = (net: string | undefined, start: number): number | undefined =>
      net === undefined
        ? undefined
        : host.branch({
            part: part.name,
            a: host.node(common),
            b: host.node(net),
            pieces: [...always(OPEN), ...always(thevenin(0, contactResistance!))],
            start,
          });
    const [make, rest] = [contact(normallyOpen, APART), contact(normallyClosed, TOUCHING)];
    host.branch({
      part: part.name,
      a: host.node(part.nets['b']!),
      b: host.node(common),
      pieces: always(thevenin(0, insulation!)),
      start: 0,
    });
    const bounce = part.values['bounce'] as Bounce | undefined;
    return build(
      part,
      host,
      { ...(make === undefined ? {} : { make }), ...(rest === undefined ? {} : { rest }) },
      bounce === undefined
        ? []
        : [
            reboundsByHand({ at: 0, pressed: true }, 0, bounce).map(({ at }) => at),
            reboundsByHand({ at: 0, pressed: false }, 1, bounce).map(({ at }) => at),
          ],
    );
  },
};

/** @param bounces times of its bounces after it has pulled in, and after it has dropped out (s). */
function build(part: Part, host: DeviceHost, contacts: ContactBranches, bounces: readonly (readonly number[])[]): void {
  const { resistance, pullIn, dropOut, operateTime, releaseTime, most, longest } = part.values as Record<
    string,
    number
  >;
  const a = host.node(part.nets['a']!);
  const b = host.node(part.nets['b']!);
  const winding = host.branch({ part: part.name, a, b, pieces: always(thevenin(0, resistance!)), start: 0 });
  host.current(part.name, [{ element: 'branch', index: winding, sign: 1 }]);
  const currents = { winding, pullIn: pullIn!, dropOut: dropOut! };
  const times = { operate: operateTime!, release: releaseTime! };
  host.reactor(relayReactor(part.name, currents, times, contacts, bounces));
  host.watch(limitWatch(part.name, { what: 'over-voltage', watch: { plus: a, minus: b }, least: -most!, most: most! }));
  if (longest !== undefined) host.watch(onTimeWatch(part.name, currents, longest));
}
