import { edgeObserver } from '../src/measure/edges.ts';
import { fateObserver } from '../src/measure/fates.ts';
import { runCircuit, timersOf } from '../src/run/simulate.ts';
import { divider } from './circuits.ts';

/**
 * So many input pulses of a divider, with edges and fates watched; what it took.
 *
 * @param countPeriods whether periods are counted where the run repeats itself.
 */
export function longRun(pulses: number, countPeriods: boolean): string {
  const circuit = divider('ideal');
  const until = pulses * 1e-3;
  const window = { from: 0, until };
  const edges = edgeObserver('out', 4.5, window, { most: 100 });
  const fates = fateObserver(timersOf(circuit)[0]!, window, { most: 100 });
  const start = process.hrtime.bigint();
  const outcome = runCircuit(circuit, { until, observers: [edges, fates], maxEvents: 1e10, countPeriods });
  const seconds = Number(process.hrtime.bigint() - start) / 1e9;
  const { counts } = fates.result();
  const resident = process.memoryUsage().rss / 2 ** 20;
  return [
    `${pulses} input pulses, ${countPeriods ? 'periods counted' : 'all gone through'}`,
    `(${outcome.events} events, ${edges.result().count} output edges, ${counts.started} started,`,
    `${counts.ignored} ignored) in ${seconds.toFixed(3)} s, ${resident.toFixed(0)} MB resident`,
  ].join(' ');
}
