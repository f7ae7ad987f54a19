import { spawnSync } from 'node:child_process';
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { main } from '#sim/cli/main.ts';
import { describe, expect, test } from 'vitest';
import cases from '../../data/malformed/cases.json' with { type: 'json' };
import { captured } from '../../support/captured-output.ts';

const folder = join(import.meta.dirname, '../../data/malformed');
const program = join(import.meta.dirname, '../../../packages/sim/bin/two-thirds.js');

interface Printed {
  readonly error?: { readonly where: string };
  readonly results?: Readonly<Record<string, { readonly ok: boolean; readonly error?: { readonly where: string } }>>;
  readonly issues?: readonly { readonly where: string }[];
}

/** All places named in what `--json` printed. */
function placesIn(printed: Printed): string[] {
  const faulty = Object.values(printed.results ?? {}).flatMap((result) => (result.error ? [result.error] : []));
  return [...(printed.error ? [printed.error] : []), ...faulty, ...(printed.issues ?? [])].map(({ where }) => where);
}

describe('the table of malformed documents', () => {
  test('has a row for every file, and at least 40', () => {
    const files = readdirSync(folder).filter((name) => name.endsWith('.tt.json'));
    expect(cases.map(({ file }) => file).sort()).toEqual(files.sort());
    expect(files.length).toBeGreaterThanOrEqual(40);
  });

  test('has both kinds of faults', () => {
    expect(new Set(cases.map(({ status }) => status))).toEqual(new Set([1, 2]));
  });
});

describe('two-thirds compute FILE --json', () => {
  test.each(cases)('says of $file where and why in one message, with status $status', async (row) => {
    const file = join(folder, row.file);
    const { status, out, messages } = await captured(['compute', file, '--json']);
    expect(status).toBe(row.status);
    expect(messages).toHaveLength(1);
    const [message = ''] = messages;
    expect(message).toContain(`must ${row.rule}`);
    expect(message).toContain(`got ${row.got}`);
    expect(message).toMatch(/^\S.* must .+; got .+\. \S/);
    expect(message).not.toMatch(/\n|undefined|\[object| at .*\.(ts|js):/);
    // JSON alone on stdout, and the place in it.
    expect(placesIn(JSON.parse(out) as Printed)).toContain(row.where === 'FILE' ? file : row.where);
  });
});

describe('two-thirds compute FILE and check FILE', () => {
  test.each(cases)('end with status $status for $file as well', async ({ file, status }) => {
    const compute = await captured(['compute', join(folder, file)]);
    const check = await captured(['check', join(folder, file)]);
    expect([compute.status, check.status]).toEqual([status, status]);
    expect(compute.messages).toHaveLength(1);
    expect(check.messages).toEqual(compute.messages);
    // A file that cannot be used prints nothing; otherwise the rest of the page is there.
    expect(compute.out === '').toBe(status === 2);
  });

  test('leave a malformed file as it was', async () => {
    const file = join(folder, 'version-later.tt.json');
    const before = readFileSync(file);
    await main(['compute', file], { out: () => {}, message: () => {} });
    expect(readFileSync(file).equals(before)).toBe(true);
  });
});

describe('the program itself', () => {
  // Starting a process costs some 0.2 s; one file of each status stands for all, which run in-process above.
  test.each([
    ['circle-of-notes.tt.json', 2],
    ['until-in-volts.tt.json', 1],
  ])('ends for %s with status %i, one line on stderr and no stack trace', (file, status) => {
    const run = spawnSync(process.execPath, [program, 'compute', join(folder, file), '--json'], {
      encoding: 'utf8',
      // A hang ends.
      timeout: 60_000,
    });
    expect(run.status).toBe(status);
    expect(run.stderr.trimEnd().split('\n')).toHaveLength(1);
    expect(run.stderr).not.toContain('    at ');
    expect(() => JSON.parse(run.stdout) as unknown).not.toThrow();
  });
});
