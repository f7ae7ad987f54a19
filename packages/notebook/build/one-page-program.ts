import { createHash } from 'node:crypto';
import { build, defaultClientConditions, type Plugin, type Rolldown } from 'vite';

/** The notebook's folder. */
const root = `${import.meta.dirname}/..`;

/** Where the program is found while the notebook is developed. */
const DEVELOPED = 'one-page-program.js';

/**
 * Builds the whole notebook a second time, as one script that needs nothing beside it: its workers travel inside it. It
 * lies beside the app's other files, and the app puts it into the pages that are shared as one file. The constant
 * `ONE_PAGE_PROGRAM` names it; in the script itself it is `undefined`.
 */
export function onePageProgram(): Plugin {
  let program = '';
  let address = '';
  return {
    name: 'one-page-program',
    async config(_, { command, isPreview }) {
      if (isPreview === true) return;
      if (command === 'build') {
        program = await buildProgram();
        address = `assets/one-page-${createHash('sha256').update(program).digest('hex').slice(0, 10)}.js`;
      }
      return { define: { ONE_PAGE_PROGRAM: JSON.stringify(command === 'build' ? address : DEVELOPED) } };
    },
    generateBundle() {
      this.emitFile({ type: 'asset', fileName: address, source: program });
    },
    configureServer(server) {
      server.middlewares.use(`/${DEVELOPED}`, (_, response) => {
        void buildProgram().then(
          (built) => response.setHeader('Content-Type', 'text/javascript').end(built),
          (error: unknown) => response.writeHead(500).end(String(error)),
        );
      });
    },
  };
}

async function buildProgram(): Promise<string> {
  const whole = { output: { codeSplitting: false } } as const;
  const built = await build({
    configFile: false,
    root,
    publicDir: false,
    logLevel: 'warn',
    define: { ONE_PAGE_PROGRAM: 'undefined' },
    plugins: [workersInside()],
    resolve: { conditions: ['source', ...defaultClientConditions] },
    worker: { format: 'iife', rolldownOptions: whole },
    build: {
      target: 'es2022',
      write: false,
      modulePreload: false,
      rolldownOptions: { input: `${root}/src/main.ts`, ...whole },
    },
  });
  return scriptText(onlyChunk(built as Rolldown.RolldownOutput | Rolldown.RolldownOutput[]));
}

/** Takes the workers that travel inside the script in place of those that are files of their own. */
function workersInside(): Plugin {
  return {
    name: 'workers-inside',
    enforce: 'pre',
    resolveId(source, importer) {
      return source === './worker-files.ts' ? this.resolve('./workers-inside.ts', importer) : undefined;
    },
  };
}

function onlyChunk(built: Rolldown.RolldownOutput | Rolldown.RolldownOutput[]): string {
  const files = (Array.isArray(built) ? built : [built]).flatMap(({ output }) => output);
  const [chunk, ...others] = files;
  if (chunk?.type !== 'chunk' || others.length > 0) {
    const names = files.map(({ fileName }) => fileName).join(', ');
    throw new Error(`one-page program: must be built as one file; got ${names}.`);
  }
  return chunk.code;
}

/**
 * The program as it may stand between the tags of a script element, byte for byte, so that the hash in the page's policy
 * fits: what would end or nest the element is written with escapes, which mean the same in strings and patterns.
 */
function scriptText(code: string): string {
  const text = code.replaceAll('\r', '').replaceAll(/<(?=\/?script|!--)/gi, '\\x3c');
  if (text.includes('\0')) throw new Error('one-page program: must hold no NUL; got one, which HTML cannot carry.');
  return text;
}
