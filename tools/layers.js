/**
 * Checks who may import whom, exactly: an import that the tables below do not permit fails, and so does a permission
 * that nothing uses although both folders hold code.
 *
 * Run it from the top folder: `node tools/layers.js`.
 */
import { existsSync } from 'node:fs';
import { cruise } from 'dependency-cruiser';

/** Folder of packages/sim/src -> what it may import: folders, or single files where only those are meant. */
const simLayers = {
  core: [],
  quantity: ['core'],
  field: ['core', 'quantity'],
  formula: ['core', 'quantity'],
  signal: ['core', 'quantity', 'field'],
  circuit: ['core', 'quantity', 'field', 'signal'],
  network: ['core'],
  device: ['core', 'quantity', 'field', 'signal', 'circuit', 'network', 'trace'],
  trace: ['core'],
  engine: ['core', 'signal', 'circuit', 'network', 'trace', 'device/contract.ts'],
  measure: ['core', 'quantity', 'circuit', 'trace'],
  capture: ['core', 'quantity'],
  board: ['quantity', 'circuit'],
  run: ['core', 'quantity', 'circuit', 'device', 'engine', 'trace', 'measure'],
  study: ['core', 'quantity', 'capture', 'formula', 'signal', 'circuit', 'trace', 'engine', 'measure', 'run'],
  document: [
    'core',
    'quantity',
    'field',
    'formula',
    'circuit',
    'device',
    'trace',
    'engine',
    'measure',
    'board',
    'capture',
    'run',
    'study',
  ],
  chart: ['quantity', 'document'],
  cli: ['quantity', 'document', 'chart'],
};

/** Entry points of the library; the root one re-exports everything and is the only one that leads to a running engine. */
const simRoot = 'packages/sim/src/index.ts';
const simEntry = /^@two-thirds\/sim(\/(quantity|circuit|trace|board|document|chart))?$/;

/** The files of the notebook that may run simulations; both run in workers. */
const notebookRunners = ['entry.ts', 'live-session.ts'].map((file) => `packages/notebook/src/worker/${file}`);

/** Folders of packages/notebook/src that hold pure functions: no elements, no browser, no other folder but these. */
const notebookPure = ['runtime', 'edit', 'chart', 'schematic'];

/** @typedef {{ from: string, to: string, specifier: string, typeOnly: boolean, kinds: string[] }} Import */

const imports = await readImports();
const faults = [...simFaults(imports), ...notebookFaults(imports), ...cycleFaults(imports)];
for (const fault of faults) console.error(fault);
console.log(`layers: ${imports.length} imports read, ${faults.length} faults`);
process.exitCode = faults.length > 0 ? 1 : 0;

/** @returns {Promise<Import[]>} */
async function readImports() {
  const folders = ['packages/sim/src', 'packages/notebook/src'].filter((folder) => existsSync(folder));
  const { output } = await cruise(
    folders,
    { tsPreCompilationDeps: true, doNotFollow: { path: 'node_modules' }, includeOnly: undefined },
    { extensions: ['.ts', '.js'], conditionNames: ['source', 'import', 'default'], exportsFields: ['exports'] },
  );
  if (typeof output === 'string') throw new Error('layers: the import list must be an object; got text.');
  return output.modules.flatMap((module) =>
    module.dependencies.map((dependency) => ({
      from: module.source,
      to: dependency.resolved,
      specifier: dependency.module,
      typeOnly: dependency.dependencyTypes.includes('type-only'),
      kinds: dependency.dependencyTypes,
    })),
  );
}

/** @param {Import[]} all */
function* simFaults(all) {
  /** @type {Set<string>} */
  const used = new Set();
  for (const { from, to, kinds } of all.filter((each) => each.from.startsWith('packages/sim/src/'))) {
    const layer = layerOf(from);
    if (kinds.includes('core') && layer !== 'cli') yield `${from}: must not import Node's ${to}; only cli/ may.`;
    if (!to.startsWith('packages/')) {
      if (kinds.includes('unknown')) yield `${from}: must import what exists; got ${to}.`;
      else if (kinds.some((kind) => ['undetermined', 'npm-no-pkg', 'npm-dev', 'npm-unknown'].includes(kind))) {
        yield `${from}: must import only dependencies of packages/sim; got ${to}.`;
      }
      continue;
    }
    const target = layerOf(to);
    if (target === undefined) yield `${from}: must import a folder of the table in tools/layers.js; got ${to}.`;
    else if (layer === undefined) {
      if (from !== simRoot) yield `${from}: must be in a folder of the table in tools/layers.js; only index.ts is not.`;
      else if (target === 'cli') yield `${from}: must not import the command line; got ${to}.`;
    } else if (target !== layer) {
      const permission = allowed(layer).find((each) => holds(each, to));
      if (permission === undefined) yield `${from}: ${layer} must not import ${target}; got ${to}.`;
      else used.add(`${layer} -> ${permission}`);
    }
  }
  const filled = new Set(all.flatMap(({ from, to }) => [from, to]).map(layerOf));
  for (const layer of Object.keys(simLayers)) {
    for (const permission of allowed(layer)) {
      const bothHoldCode = filled.has(layer) && filled.has(permission.split('/')[0]);
      if (bothHoldCode && !used.has(`${layer} -> ${permission}`)) {
        yield `tools/layers.js: ${layer} -> ${permission} must be used or go; got no such import.`;
      }
    }
  }
}

/** @param {Import[]} all */
function* notebookFaults(all) {
  for (const { from, to, specifier, typeOnly } of all.filter((each) =>
    each.from.startsWith('packages/notebook/src/'),
  )) {
    const folder = from.split('/')[3] ?? '';
    if (to.startsWith('packages/sim/') || specifier.startsWith('@two-thirds/sim')) {
      if (!simEntry.test(specifier)) yield `${from}: must reach the library by an entry point; got ${specifier}.`;
      const runs = to === simRoot && !typeOnly;
      if (runs && !notebookRunners.includes(from)) {
        yield `${from}: must not import what runs simulations; only ${notebookRunners.join(' and ')} may. Use import type, or a part such as @two-thirds/sim/quantity.`;
      }
      continue;
    }
    if (to === 'packages/notebook/src/main.ts') yield `${from}: must not import main.ts; it starts the page.`;
    if (notebookPure.includes(folder)) {
      const target = /^packages\/notebook\/src\/([^/]+)\//.exec(to)?.[1];
      const impure = target !== undefined && !notebookPure.includes(target);
      if (impure || /^lit(\/|$)/.test(specifier)) yield `${from}: ${folder} is pure and must not import ${specifier}.`;
    }
  }
}

/**
 * Circles of imports that exist when the program runs; types may refer to each other.
 *
 * @param {Import[]} all
 */
function* cycleFaults(all) {
  /** @type {Map<string, string[]>} */
  const edges = new Map();
  for (const { from, to, typeOnly } of all) if (!typeOnly) edges.set(from, [...(edges.get(from) ?? []), to]);
  /** @type {Set<string>} */
  const finished = new Set();
  /** @type {string[]} */
  const path = [];
  /** @type {(file: string) => Generator<string>} */
  function* visit(file) {
    if (finished.has(file)) return;
    const start = path.indexOf(file);
    if (start >= 0) {
      yield `${file}: must not import itself by a circle; got ${[...path.slice(start), file].join(' -> ')}.`;
      return;
    }
    path.push(file);
    for (const next of edges.get(file) ?? []) yield* visit(next);
    path.pop();
    finished.add(file);
  }
  for (const file of edges.keys()) yield* visit(file);
}

/**
 * @param {string} file
 * @returns {string | undefined}
 */
function layerOf(file) {
  const folder = /^packages\/sim\/src\/([^/]+)\//.exec(file)?.[1];
  return folder !== undefined && folder in simLayers ? folder : undefined;
}

/**
 * Whether a permission, a folder or a single file, covers the file.
 *
 * @param {string} permission
 * @param {string} file
 */
function holds(permission, file) {
  const path = `packages/sim/src/${permission}`;
  return file === path || file.startsWith(`${path}/`);
}

/**
 * @param {string} layer
 * @returns {string[]}
 */
function allowed(layer) {
  return Object.entries(simLayers).find(([name]) => name === layer)?.[1] ?? [];
}
