import { execFile } from 'node:child_process';
import { existsSync, mkdirSync, readFileSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { promisify } from 'node:util';
import { type Browser, chromium as playwright } from 'playwright-core';

const root = join(import.meta.dirname, '../..');

/** Where a browser is and what its process needs around it. */
interface Chromium {
  readonly executablePath: string;
  readonly env: Record<string, string>;
}

/**
 * Starts a real Chromium for the browser tests: the one of the development dependencies, or the one that the
 * environment variable `CHROME_PATH` names. A machine without a usable browser fails the tests, it never skips them.
 */
export async function launchChromium(): Promise<Browser> {
  const { executablePath, env } = await findChromium();
  try {
    // Without the list of switches that the package offers: it turns off web security, and policies are tested here.
    return await playwright.launch({ executablePath, env });
  } catch (cause) {
    throw new Error(
      `browser tests: ${executablePath} must start; got ${firstLine(cause)}. ` +
        'Install what it misses (on Debian: apt-get install libnss3 libnspr4 libexpat1), ' +
        'or set CHROME_PATH to a Chromium on this machine.',
      { cause },
    );
  }
}

async function findChromium(): Promise<Chromium> {
  // The unpacked build takes its language from LANG, and "C.UTF-8" gives pages a language tag they cannot use.
  const env = { ...definedEnv(), LANG: 'en_US.UTF-8' };
  const override = process.env['CHROME_PATH'];
  if (override !== undefined && override !== '') return { executablePath: override, env };
  if (process.platform !== 'linux' || process.arch !== 'x64') {
    throw new Error(
      `browser tests: CHROME_PATH must name a Chromium on ${process.platform} ${process.arch}; got none. ` +
        'The browser in the development dependencies is for linux x64 only.',
    );
  }
  const folder = await unpack();
  return { executablePath: join(folder, 'chromium'), env: { ...env, ...surroundings(folder) } };
}

/**
 * Unpacks the browser (about 200 MB) once per install into node_modules/.cache and returns the folder. The work is
 * done in a folder of its own and renamed at the end, so that two test runs at once never start a half-written file.
 */
async function unpack(): Promise<string> {
  const cache = join(root, 'node_modules/.cache/two-thirds');
  const folder = join(cache, `chromium-${packageVersion()}`);
  if (existsSync(folder)) return folder;
  const workFolder = join(cache, `unpacking-${process.pid}`);
  mkdirSync(workFolder, { recursive: true });
  try {
    // The package unpacks to TMPDIR. The second variable makes it unpack its copies of libnss3, libnspr4 and libexpat
    // too, which a fresh machine often has not got.
    await promisify(execFile)(
      process.execPath,
      ['--input-type=module', '--eval', "await (await import('@sparticuz/chromium')).default.executablePath()"],
      { cwd: root, env: { ...process.env, TMPDIR: workFolder, AWS_EXECUTION_ENV: 'nodejs20.x' } },
    );
    writeFileSync(join(workFolder, 'fonts.conf'), fontSettings(folder));
    renameSync(workFolder, folder);
  } catch (cause) {
    rmSync(workFolder, { recursive: true, force: true });
    // Another run may have been first; its folder serves as well.
    if (!existsSync(folder)) throw cause;
  }
  return folder;
}

function packageVersion(): string {
  const path = join(root, 'node_modules/@sparticuz/chromium/package.json');
  return (JSON.parse(readFileSync(path, 'utf8')) as { version: string }).version;
}

/** Libraries and fonts of the package, each only where the machine has none of its own. */
function surroundings(folder: string): Record<string, string> {
  const libraryPath = [process.env['LD_LIBRARY_PATH'], join(folder, 'al2023/lib')].filter(Boolean).join(':');
  return {
    ...(hasLibraries() ? {} : { LD_LIBRARY_PATH: libraryPath }),
    ...(existsSync('/etc/fonts/fonts.conf') ? {} : { FONTCONFIG_FILE: join(folder, 'fonts.conf') }),
  };
}

function hasLibraries(): boolean {
  const folders = ['/usr/lib/x86_64-linux-gnu', '/lib/x86_64-linux-gnu', '/usr/lib64', '/lib64', '/usr/lib'];
  const names = ['libnss3.so', 'libnspr4.so', 'libexpat.so.1'];
  return names.every((name) => folders.some((folder) => existsSync(join(folder, name))));
}

function fontSettings(folder: string): string {
  return [
    '<?xml version="1.0"?>',
    '<!DOCTYPE fontconfig SYSTEM "fonts.dtd">',
    `<fontconfig><dir>${folder}/fonts</dir><dir>/usr/share/fonts</dir><cachedir>${folder}/font-cache</cachedir></fontconfig>`,
    '',
  ].join('\n');
}

function definedEnv(): Record<string, string> {
  return Object.fromEntries(
    Object.entries(process.env).filter((entry): entry is [string, string] => entry[1] !== undefined),
  );
}

function firstLine(error: unknown): string {
  const text = error instanceof Error ? error.message : String(error);
  return /error while loading shared libraries[^\n]*/.exec(text)?.[0] ?? text.split('\n')[0] ?? '';
}
