/** Where the program writes: text for the reader, and messages about it. */
export interface Output {
  readonly out: (text: string) => void;
  readonly message: (line: string) => void;
  /** Told how far a long computation is, 0 to 1; left out where nobody watches. */
  readonly progress?: (share: number) => void;
}

/** A computation that is over sooner than this is not worth a progress line (ms). */
const WORTH_TELLING = 1000;

/** Writes to the streams of the process. A reader that has gone away (`| head`) ends nothing with an error. */
export function processOutput(): Output {
  for (const stream of [process.stdout, process.stderr]) {
    if (stream.listeners('error').includes(ignoreClosedPipe)) continue;
    stream.on('error', ignoreClosedPipe);
  }
  return {
    out: (text) => void process.stdout.write(text),
    message: (line) => void process.stderr.write(`${line}\n`),
    ...(process.stderr.isTTY ? { progress: progressLine() } : {}),
  };
}

/** Keeps one line on a terminal up to date, and takes it away at the end. */
function progressLine(): (share: number) => void {
  const start = Date.now();
  let shown = '';
  return (share) => {
    const line = share < 1 && Date.now() - start > WORTH_TELLING ? `computing: ${Math.floor(share * 100)} %` : '';
    if (line === shown) return;
    process.stderr.write(`\r${line.padEnd(shown.length)}${line === '' ? '\r' : ''}`);
    shown = line;
  };
}

function ignoreClosedPipe(error: Error & { code?: string }): void {
  if (error.code !== 'EPIPE') throw error;
}
