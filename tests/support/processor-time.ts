import { spawnSync } from 'node:child_process';

/** What a program that ran to its end left. */
interface Ended {
  readonly status: number | null;
  readonly stderr: string;
  /** Time of processors that it took with all it started (ms): the same whatever else the machine does. */
  readonly processor: number;
}

/** Runs a program in a folder; its output is dropped. A POSIX shell does it, whose `times` tells what it waited for. */
export function runTimed(folder: string, command: readonly string[]): Ended {
  const script = '"$@" >/dev/null; status=$?; times >&3; exit $status';
  const run = spawnSync('sh', ['-c', script, 'sh', ...command], {
    cwd: folder,
    encoding: 'utf8',
    stdio: ['ignore', 'ignore', 'pipe', 'pipe'],
  });
  // User and system time, of the shell and then of its children: "0m0.01s 0m0.00s 0m1.27s 0m0.24s".
  const times = [...(run.output[3] ?? '').matchAll(/(\d+)m([\d.]+)s/g)].slice(2);
  if (times.length !== 2) throw new Error(`no times of ${command.join(' ')}: ${run.output[3] ?? run.error?.message}`);
  const seconds = times.reduce((total, [, minutes, rest]) => total + 60 * Number(minutes) + Number(rest), 0);
  return { status: run.status, stderr: run.stderr, processor: 1000 * seconds };
}

/** Time of processors that this process has taken so far (ms): it does not go on while others have the processor. */
export function processorTime(): number {
  const { user, system } = process.cpuUsage();
  return (user + system) / 1000;
}
