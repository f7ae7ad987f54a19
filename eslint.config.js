import { defineConfig } from 'eslint/config';
import tseslint from 'typescript-eslint';
import { documentedExports } from './tools/documented-exports.js';
import { pageReads } from './tools/page-reads.js';

const noDefaultExport = {
  selector: 'ExportDefaultDeclaration',
  message: 'Export by name: one thing has one name everywhere.',
};

const configurationFiles = ['*.config.{js,ts}', 'packages/*/*.config.{js,ts}'];

export default defineConfig(
  { ignores: ['**/dist', 'coverage', 'test-results'] },
  { linterOptions: { reportUnusedDisableDirectives: 'error' } },
  {
    files: ['**/*.{js,ts}'],
    plugins: { local: { rules: { 'documented-exports': documentedExports, 'page-reads': pageReads } } },
    extends: [tseslint.configs.recommendedTypeChecked],
    languageOptions: {
      parserOptions: {
        projectService: { allowDefaultProject: ['packages/sim/bin/*.js', 'packages/sim/vite.config.ts'] },
        tsconfigRootDir: import.meta.dirname,
      },
    },
    rules: {
      eqeqeq: ['error', 'always'],
      'no-var': 'error',
      'prefer-const': 'error',
      'no-restricted-syntax': ['error', noDefaultExport],
      '@typescript-eslint/consistent-type-exports': 'error',
      '@typescript-eslint/consistent-type-imports': ['error', { fixStyle: 'inline-type-imports' }],
      '@typescript-eslint/no-shadow': 'error',
      '@typescript-eslint/no-unnecessary-boolean-literal-compare': 'error',
      '@typescript-eslint/no-unused-vars': ['error', { argsIgnorePattern: '^_', ignoreRestSiblings: true }],
      '@typescript-eslint/prefer-readonly': 'error',
      '@typescript-eslint/restrict-template-expressions': ['error', { allowNumber: true, allowBoolean: true }],
      '@typescript-eslint/switch-exhaustiveness-check': [
        'error',
        { considerDefaultExhaustiveForUnions: true, requireDefaultForNonUnion: false },
      ],
    },
  },
  {
    files: ['packages/*/src/**/*.ts'],
    rules: { 'local/documented-exports': 'error' },
  },
  {
    // The library computes the same thing on every machine, at every time and in every run.
    files: ['packages/sim/src/**/*.ts'],
    ignores: ['packages/sim/src/cli/**'],
    rules: {
      'no-console': 'error',
      'no-restricted-globals': [
        'error',
        { name: 'Date', message: 'The library has no clock; take the time as an argument.' },
        { name: 'console', message: 'The library prints nothing; return data or throw.' },
        { name: 'globalThis', message: 'The library has no global state.' },
      ],
      'no-restricted-properties': [
        'error',
        { object: 'Math', property: 'random', message: 'Take a seed and use core/random.ts.' },
      ],
    },
  },
  {
    // Simulations run in the worker, so that the page never stands still. tools/layers.js guards the root entry point.
    files: ['packages/notebook/src/**/*.ts'],
    ignores: ['packages/notebook/src/worker/entry.ts'],
    rules: {
      '@typescript-eslint/no-restricted-imports': [
        'error',
        {
          patterns: [
            {
              group: ['@two-thirds/sim/*'],
              importNamePattern: '^(compute|simulate)',
              allowTypeImports: true,
              message: 'Only worker/entry.ts runs simulations.',
            },
          ],
        },
      ],
    },
  },
  {
    // Tests and tools read JSON; in tests its types are often the very thing under test.
    files: ['tests/**/*.ts', 'tools/**/*.js'],
    rules: {
      '@typescript-eslint/no-unsafe-argument': 'off',
      '@typescript-eslint/no-unsafe-assignment': 'off',
      '@typescript-eslint/no-unsafe-call': 'off',
      '@typescript-eslint/no-unsafe-member-access': 'off',
      '@typescript-eslint/no-unsafe-return': 'off',
    },
  },
  {
    files: ['tests/browser/**/*.ts'],
    rules: { 'local/page-reads': 'error' },
  },
  {
    files: configurationFiles,
    rules: { 'no-restricted-syntax': 'off' },
  },
  {
    // Committed plain JavaScript that loads the build, whose types may not be there yet.
    files: ['packages/sim/bin/*.js'],
    extends: [tseslint.configs.disableTypeChecked],
  },
);
