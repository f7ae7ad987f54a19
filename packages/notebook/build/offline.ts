import { createHash } from 'node:crypto';
import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { build, type Plugin, type Rolldown } from 'vite';

const root = `${import.meta.dirname}/..`;

/**
 * Builds the service worker that keeps every file of the app, so that it opens without a network. It is built last: it
 * names all other files, and the hash of them all, which tells one build from another.
 */
export function offline(): Plugin {
  let publicFolder = '';
  return {
    name: 'offline',
    apply: 'build',
    configResolved({ publicDir }) {
      publicFolder = publicDir;
    },
    async writeBundle({ dir = '' }, bundle) {
      const names = [...Object.keys(bundle), ...readdirSync(publicFolder)].sort();
      const hash = createHash('sha256');
      for (const name of names) hash.update(name).update(readFileSync(join(dir, name)));
      const version = hash.digest('hex').slice(0, 10);
      writeFileSync(join(dir, 'service-worker.js'), await buildServiceWorker(names, version));
    },
  };
}

async function buildServiceWorker(files: readonly string[], version: string): Promise<string> {
  const built = (await build({
    configFile: false,
    root,
    publicDir: false,
    logLevel: 'warn',
    define: { APP_FILES: JSON.stringify(files), APP_VERSION: JSON.stringify(version) },
    build: {
      target: 'es2022',
      write: false,
      modulePreload: { polyfill: false },
      rolldownOptions: { input: `${root}/src/offline/service-worker.ts`, output: { format: 'iife' } },
    },
  })) as Rolldown.RolldownOutput;
  return built.output[0].code;
}
