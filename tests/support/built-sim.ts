import { spawnSync } from 'node:child_process';
import { existsSync, readdirSync, statSync } from 'node:fs';
import { join } from 'node:path';

const packageFolder = join(import.meta.dirname, '../../packages/sim');

/** Builds the simulator before tests that start its command line, when a source file is newer than the build. */
export function setup(): void {
  const built = join(packageFolder, 'dist/cli/main.js');
  if (existsSync(built) && newestSource() <= statSync(built).mtimeMs) return;
  const result = spawnSync('npm', ['run', '--silent', 'build'], { cwd: packageFolder, encoding: 'utf8' });
  if (result.status !== 0) {
    throw new Error(`packages/sim: the build must succeed; got exit status ${result.status}.\n${result.stdout}`);
  }
}

function newestSource(): number {
  const source = join(packageFolder, 'src');
  const files = readdirSync(source, { recursive: true, encoding: 'utf8' }).filter((name) => name.endsWith('.ts'));
  return Math.max(...files.map((name) => statSync(join(source, name)).mtimeMs));
}
