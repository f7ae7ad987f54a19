import { fileURLToPath } from 'node:url';
import { defineConfig } from 'vite';

const source = (name: string): string => fileURLToPath(new URL(`src/cli/${name}.ts`, import.meta.url));

// The command line as a few files: reading hundreds of small ones took longer than many a page takes to compute, and every
// thread reads them again; to find a package among its folders takes as long as to read it. Threads are files of their own,
// beside it.
export default defineConfig({
  ssr: { noExternal: ['valibot', 'pure-rand'] },
  build: {
    ssr: true,
    target: 'node20',
    outDir: 'dist/cli',
    emptyOutDir: true,
    rollupOptions: {
      input: Object.fromEntries(['main', 'computing-thread', 'study-worker'].map((name) => [name, source(name)])),
      // Constants and functions stay constants, so that the compiler can rely on what they are; as variables they are looked up.
      output: { entryFileNames: '[name].js', chunkFileNames: '[name]-[hash].js', topLevelVar: false },
    },
  },
});
