import { defineConfig } from 'vitest/config';

const resolve = { conditions: ['source'] };
const ssr = { resolve: { conditions: ['source'] } };

export default defineConfig({
  test: {
    projects: [
      {
        resolve,
        ssr,
        test: { name: 'node', include: ['tests/{sim,notebook,reference,examples}/**/*.test.ts'] },
      },
      {
        resolve,
        ssr,
        test: { name: 'laws', include: ['tests/laws/**/*.test.ts'] },
      },
    ],
  },
});
