import { pinMargin } from '../circuit/part-limits.ts';
import type { DeviceHost } from './contract.ts';
import type { TimerFamily, TimerParameters } from './families.ts';
import { limitWatch, type PartLimit } from './limit-watch.ts';

/** Nodes of a timer's supply and of the inputs that the outside may drive. */
export interface LimitedPins {
  readonly supply: number;
  readonly ground: number;
  readonly trigger: number;
  readonly threshold: number;
  readonly control: number;
  readonly reset: number | undefined;
}

/** Watches a timer's supply range, the currents of its output branches (high, low) and its inputs. */
export function watchTimerLimits(
  part: string,
  host: DeviceHost,
  family: TimerFamily,
  parameters: TimerParameters,
  pins: LimitedPins,
  output: { readonly high: number; readonly low: number },
): void {
  const { supply, ground } = pins;
  const { supplyMinimum, supplyMaximum, outputMaximum, outputSinkMaximum } = parameters;
  const watch = (limit: PartLimit): void => {
    const { least = -Infinity, most = Infinity } = limit;
    if (Number.isFinite(least) || Number.isFinite(most)) host.watch(limitWatch(part, limit));
  };
  const fed = { plus: supply, minus: ground };
  if (supplyMinimum > 0) watch({ what: 'supply-low', watch: fed, least: supplyMinimum });
  watch({ what: 'supply-high', watch: fed, most: supplyMaximum });
  watch({ what: 'output-gives', watch: { branch: output.high }, most: outputMaximum });
  watch({ what: 'output-takes', watch: { branch: output.low }, most: outputSinkMaximum });
  const margin = pinMargin(family);
  for (const pin of ['trigger', 'threshold', 'control', 'reset'] as const) {
    const node = pins[pin];
    if (node === undefined || node === supply || node === ground) continue;
    watch({ what: 'pin-high', pin, watch: { plus: node, minus: supply }, most: margin });
    watch({ what: 'pin-low', pin, watch: { plus: node, minus: ground }, least: -margin });
  }
}
