import { readFile } from 'node:fs/promises';
import { readCommandLine } from './command-line.ts';
import { type Output, processOutput } from './output.ts';
import { SEE_HELP, USAGE } from './usage.ts';

/**
 * The command line `two-thirds`.
 *
 * @param argv arguments after the program's name.
 * @param output where it writes; the streams of the process if not given.
 * @returns the exit status: 0 done, 1 a fault inside a board or cell, 2 the file or the command line cannot be used.
 */
export async function main(argv: readonly string[], output: Output = processOutput()): Promise<number> {
  try {
    if (argv[0] === 'families' && !argv.includes('--help')) {
      return (await import('./families-command.ts')).familiesCommand(argv.slice(1), output);
    }
    const command = readCommandLine(argv);
    switch (command.name) {
      case 'help':
        output.out(USAGE);
        return 0;
      case 'version':
        output.out(`${await version()}\n`);
        return 0;
      case 'mistake':
        if (command.json)
          output.out(`${JSON.stringify({ error: { message: command.message, where: 'command line' } })}\n`);
        output.message(command.message);
        return 2;
      // Loaded only now, so that help and mistakes answer at once.
      case 'check':
        return await (await import('./check-command.ts')).checkCommand(command.file, output);
      case 'compute':
        return await (await import('./compute-command.ts')).computeCommand(command, output);
    }
  } catch (error) {
    const words = error instanceof Error ? error.message : String(error);
    output.message(`two-thirds: something went wrong inside the program: ${words} Your file is untouched. ${SEE_HELP}`);
    return 1;
  }
}

async function version(): Promise<string> {
  const text = await readFile(new URL('../../package.json', import.meta.url), 'utf8');
  return (JSON.parse(text) as { version: string }).version;
}
