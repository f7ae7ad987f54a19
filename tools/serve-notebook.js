/** Builds the notebook and serves it on this computer alone. Prints the address; ends with Ctrl+C. */
import { join } from 'node:path';
import { build, preview } from 'vite';

const root = join(import.meta.dirname, '../packages/notebook');
await build({ root, logLevel: 'warn' });
const server = await preview({ root, logLevel: 'warn' });
console.log(`The notebook is at ${server.resolvedUrls?.local[0]} (end with Ctrl+C)`);

// npm starts a shell that starts this program, and ending npm from outside ends only the shell: follow it.
const starter = process.ppid;
setInterval(() => {
  if (process.ppid !== starter) process.exit();
}, 500);
