import { parseArgs } from 'node:util';
import { SEE_HELP } from './usage.ts';

/** Most threads: more than any machine has use for. */
const MOST_WORKERS = 256;

/** Computing a document. */
export interface ComputeCommand {
  readonly name: 'compute';
  readonly file: string;
  readonly json: boolean;
  readonly csv?: string;
  readonly svg?: string;
  readonly only?: readonly string[];
  /** Threads that run studies, as many as are worth their start if left out; with 0 the program uses no thread beside its own. */
  readonly workers?: number;
  /** Run only this part of the jobs of studies, and print what they gave. */
  readonly shard?: { readonly part: number; readonly parts: number };
  /** Files of measurements by cell, in place of those the document names. */
  readonly captures?: ReadonlyMap<string, string>;
  /** Files of such parts, whose jobs need not be run. */
  readonly merge?: readonly string[];
}

/** What a command line asks for. */
export type Command =
  | { readonly name: 'help' }
  | { readonly name: 'version' }
  | { readonly name: 'check'; readonly file: string }
  | ComputeCommand
  | {
      readonly name: 'mistake';
      /** The message for the person who typed it. */
      readonly message: string;
      /** Whether JSON was asked for, so that the answer is JSON too. */
      readonly json: boolean;
    };

/** Reads the arguments after the program's name. Never throws. */
export function readCommandLine(argv: readonly string[]): Command {
  const json = argv.includes('--json');
  const mistake = (message: string): Command => ({ name: 'mistake', json, message: `${message} ${SEE_HELP}` });
  let parsed: ReturnType<typeof parse>;
  try {
    parsed = parse(argv);
  } catch (error) {
    return mistake(optionMistake(error));
  }
  const { values, positionals } = parsed;
  if (values.help === true) return { name: 'help' };
  if (values.version === true) return { name: 'version' };
  const [command, file, ...more] = positionals;
  if (command !== 'compute' && command !== 'check') {
    const got = command === undefined ? 'nothing' : JSON.stringify(command);
    return mistake(`command line: the command must be compute, check or families; got ${got}.`);
  }
  if (file === undefined) return mistake(`${command}: FILE must be given; got nothing.`);
  if (more.length > 0) return mistake(`${command}: one FILE must be given; got ${positionals.length - 1}.`);
  if (command === 'check') {
    const extra = (['json', 'csv', 'svg', 'only', 'workers', 'shard', 'merge', 'capture'] as const).find(
      (option) => values[option] !== undefined,
    );
    if (extra !== undefined) return mistake(`check: --${extra} must be left out; it belongs to compute.`);
    return { name: 'check', file };
  }
  const only = values.only?.split(',').map((id) => id.trim());
  if (only?.includes('') === true)
    return mistake(
      `compute: --only must be followed by cell ids with commas between; got ${JSON.stringify(values.only)}.`,
    );
  for (const option of ['csv', 'svg'] as const) {
    if (values[option] !== '') continue;
    return mistake(`compute: --${option} must be followed by a folder; got an empty text.`);
  }
  const workers = Number(values.workers ?? '0');
  if (!/^\d+$/.test(values.workers ?? '0') || workers > MOST_WORKERS) {
    const got = JSON.stringify(values.workers);
    return mistake(`compute: --workers must be followed by a whole number from 0 to ${MOST_WORKERS}; got ${got}.`);
  }
  const shard = values.shard === undefined ? undefined : shardOf(values.shard);
  if (shard === 'mistake') {
    const got = JSON.stringify(values.shard);
    return mistake(`compute: --shard must be followed by a part and the number of parts, such as 2/3; got ${got}.`);
  }
  if (shard !== undefined && (json || values.csv !== undefined || values.svg !== undefined)) {
    const rule = 'compute: --json, --csv and --svg must be left out with --shard';
    return mistake(`${rule}, which prints jobs to be merged later.`);
  }
  const captures = values.capture === undefined ? undefined : capturesOf(values.capture);
  if (captures === 'mistake') {
    const got = JSON.stringify(values.capture);
    return mistake(`compute: --capture must be followed by cells and files, such as bench=lamp.csv; got ${got}.`);
  }
  const merge = values.merge?.split(',').filter((each) => each !== '');
  return {
    name: 'compute',
    file,
    json,
    ...(values.workers === undefined ? {} : { workers }),
    ...(shard === undefined ? {} : { shard }),
    ...(merge === undefined ? {} : { merge }),
    ...(captures === undefined ? {} : { captures }),
    ...(values.csv === undefined ? {} : { csv: values.csv }),
    ...(values.svg === undefined ? {} : { svg: values.svg }),
    ...(only === undefined ? {} : { only }),
  };
}

function parse(argv: readonly string[]) {
  return parseArgs({
    args: [...argv],
    allowPositionals: true,
    options: {
      help: { type: 'boolean', short: 'h' },
      version: { type: 'boolean' },
      json: { type: 'boolean' },
      csv: { type: 'string' },
      svg: { type: 'string' },
      only: { type: 'string' },
      workers: { type: 'string' },
      shard: { type: 'string' },
      merge: { type: 'string' },
      capture: { type: 'string', multiple: true },
    },
  });
}

/** Cells and files as `bench=lamp.csv`, each from an option of its own, so that a name may hold a comma. */
function capturesOf(texts: readonly string[]): Map<string, string> | 'mistake' {
  const pairs = texts.map((text) => /^([A-Za-z]\w*)=(.+)$/.exec(text));
  if (pairs.includes(null)) return 'mistake';
  return new Map(pairs.flatMap((pair) => (pair === null ? [] : [[pair[1]!, pair[2]!] as const])));
}

function shardOf(text: string): { part: number; parts: number } | 'mistake' {
  const found = /^(\d{1,6})\/(\d{1,6})$/.exec(text);
  const [part, parts] = [Number(found?.[1]), Number(found?.[2])];
  return part >= 1 && part <= parts ? { part, parts } : 'mistake';
}

function optionMistake(error: unknown): string {
  const words = error instanceof Error ? error.message : String(error);
  const unknown = /^Unknown option '([^']*)'/.exec(words);
  if (unknown !== null)
    return `command line: options must be --json, --csv, --svg, --only, --workers, --shard, --merge, --capture, --help or --version; got ${unknown[1]}.`;
  const missing = /^Option '[^']*?(--\w+)[^']*' argument (?:missing|is ambiguous)/.exec(words);
  if (missing !== null) return `command line: ${missing[1]} must be followed by a value; got nothing.`;
  // The first sentence says what is wrong; what follows is advice for programmers.
  return `command line: ${words.split('. ')[0]}.`;
}
