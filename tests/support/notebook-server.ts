import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { build, preview } from 'vite';
import type { TestProject } from 'vitest/node';

declare module 'vitest' {
  interface ProvidedContext {
    /** Address of the built notebook, ending in a slash. */
    notebookAddress: string;
  }
}

/** Builds the notebook as users get it and serves it on a free port while the journeys run. */
export async function setup(project: TestProject): Promise<() => Promise<void>> {
  const root = join(import.meta.dirname, '../../packages/notebook');
  const outDir = await mkdtemp(join(tmpdir(), 'two-thirds-notebook-'));
  await build({ root, logLevel: 'warn', build: { outDir, emptyOutDir: false } });
  const server = await preview({ root, logLevel: 'warn', build: { outDir }, preview: { port: 0 } });
  const address = server.resolvedUrls?.local[0];
  if (address === undefined) throw new Error('notebook server: the preview must have a local address; got none.');
  project.provide('notebookAddress', address);
  return async () => {
    await server.close();
    await rm(outDir, { recursive: true });
  };
}
