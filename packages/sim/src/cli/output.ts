/** Where the program writes: text for the reader, and messages about it. */
export interface Output {
  readonly out: (text: string) => void;
  readonly message: (line: string) => void;
}

/** Writes to the streams of the process. A reader that has gone away (`| head`) ends nothing with an error. */
export function processOutput(): Output {
  for (const stream of [process.stdout, process.stderr]) {
    if (stream.listeners('error').includes(ignoreClosedPipe)) continue;
    stream.on('error', ignoreClosedPipe);
  }
  return {
    out: (text) => void process.stdout.write(text),
    message: (line) => void process.stderr.write(`${line}\n`),
  };
}

function ignoreClosedPipe(error: Error & { code?: string }): void {
  if (error.code !== 'EPIPE') throw error;
}
