import { main } from '#sim/cli/main.ts';

/** What a command printed. */
export interface Captured {
  readonly status: number;
  /** Everything on stdout. */
  readonly out: string;
  /** Lines on stderr. */
  readonly messages: readonly string[];
}

/** Runs the command line in this process and keeps what it prints. */
export async function captured(argv: readonly string[]): Promise<Captured> {
  let out = '';
  const messages: string[] = [];
  const status = await main(argv, { out: (text) => void (out += text), message: (line) => void messages.push(line) });
  return { status, out, messages };
}
