import type { FaultStep } from './fault-change.ts';
import { dryJoint, faultOf, type FaultyPart, inSeries, OPEN, SHORT, type SingleFault } from './faulty-part.ts';
import { neverShort } from './faults-of-two-ends.ts';

const REVERSED = 'A reversed voltage may destroy the driver of a buzzer.';

/** The single faults of a relay or solenoid: of its winding, and of its contact where that is joined. */
export function windingFaults(of: FaultyPart): SingleFault[] {
  const blob: FaultStep = { step: 'bridge', from: 'a', to: 'b', resistance: SHORT };
  return [
    faultOf(of, 'open', 'winding of @ open', inSeries('a', OPEN)),
    faultOf(of, 'short', 'winding of @ shorted', [blob], neverShort(of)),
    dryJoint(of, 'a'),
    ...contactFaults(of),
  ];
}

/** The single faults of a buzzer. */
export function buzzerFaults(of: FaultyPart): SingleFault[] {
  return [
    faultOf(of, 'open', '@ open or missing', inSeries('plus', OPEN)),
    faultOf(of, 'reversed', '@ reversed', [{ step: 'exchange', terminals: ['plus', 'minus'] }], REVERSED),
    dryJoint(of, 'plus'),
  ];
}

/** A contact that never closes, and one that has welded: the other half of a changeover contact then never closes. */
function contactFaults(of: FaultyPart): SingleFault[] {
  const { nets } = of.part;
  if (nets.common === undefined) return [];
  const welded = (terminal: string, other: string, when: string): SingleFault[] => {
    if (nets[terminal] === undefined) return [];
    const blob: FaultStep = { step: 'bridge', from: 'common', to: terminal, resistance: SHORT };
    const away = nets[other] === undefined ? [] : inSeries(other, OPEN);
    const never = neverShort(of, 'common', terminal);
    return [faultOf(of, 'short', `contact of @ stays closed ${when}`, [blob, ...away], never)];
  };
  return [
    faultOf(of, 'open', 'contact of @ never closes', inSeries('common', OPEN)),
    ...welded('normallyOpen', 'normallyClosed', 'at rest'),
    ...welded('normallyClosed', 'normallyOpen', 'when pulled in'),
  ];
}
