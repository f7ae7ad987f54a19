import { defaultClientConditions, defineConfig } from 'vite';
import { offline } from './build/offline.ts';
import { onePageProgram } from './build/one-page-program.ts';

export default defineConfig({
  // Relative addresses, so that the built page can be served from any folder.
  base: './',
  plugins: [onePageProgram(), offline()],
  // `source` reads the simulator's TypeScript directly: the notebook never waits for a build of it.
  resolve: { conditions: ['source', ...defaultClientConditions] },
  worker: { format: 'es' },
  build: { target: 'es2022' },
  // Without strictPort both servers take the next free port and print the address they got.
  server: { host: '127.0.0.1', port: 5173 },
  preview: { host: '127.0.0.1', port: 5173 },
});
