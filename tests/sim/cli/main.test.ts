import { spawn, spawnSync } from 'node:child_process';
import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { main } from '#sim/cli/main.ts';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { plain } from '../../support/circuit-issues.ts';
import { captured } from '../../support/captured-output.ts';
import { documentOf } from '../../support/documents.ts';

const repository = join(import.meta.dirname, '../../..');
let folder = '';
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'two-thirds-'));
});
afterAll(() => rmSync(folder, { recursive: true }));

const boards = { counter: { ready: 'frequency divider', values: { 'U1.family': 'ideal' } } };
const second = { board: 'counter', until: '1 s' };
const page = [
  { id: 'intro', kind: 'note', section: 'ask', text: '# Dividing\n\nA tick lasts [width](#numbers.width).' },
  { id: 'circuit', kind: 'board', board: 'counter' },
  { id: 'look', kind: 'trace', section: 'observe', ...second, show: ['in', 'timing', 'out'] },
  { id: 'why', kind: 'fates', section: 'observe', ...second },
  {
    id: 'numbers',
    kind: 'reading',
    section: 'observe',
    ...second,
    take: { width: 'width(out)', ratio: 'ratio(out, in)', never: 'first(ground)' },
  },
];

/** Writes a document into the folder and gives its path. */
function file(name: string, data: unknown): string {
  const path = join(folder, name);
  writeFileSync(path, typeof data === 'string' ? data : JSON.stringify(data));
  return path;
}

interface Printed {
  readonly results: Readonly<Record<string, Readonly<Record<string, unknown>>>>;
  readonly error?: { readonly message: string; readonly where: string };
}

describe('two-thirds compute FILE', () => {
  test('prints title, sections, notes with their numbers, tables, fates and cautions', async () => {
    const { status, out, messages } = await captured(['compute', file('good.tt.json', documentOf(boards, page))]);
    expect([status, messages]).toEqual([0, []]);
    const text = plain(out);
    expect(text).toContain('Test page\n=========\n');
    expect(text).toContain('[ Ask ]\n\n# Dividing\n\nA tick lasts 351 ms.');
    expect(text).toContain('By the textbook, from part values alone:\n  interval  352 ms  T = 1.1 · R1 · C1');
    expect(text).toMatch(/ {2}● {2}100 ms {2}Started: an interval of 351 ms\./);
    expect(text).toContain('6 input pulses came before 1 s: 2 started an interval and 4 found it running');
    expect(text).toMatch(/width {2}351 ms +width\(out\)/);
    expect(text).toMatch(/never {2}no value {2}first\(ground\): .+/);
    expect(text).toContain('Cautions\n- Hot or smelling: switch off first.');
  });

  test('draws logic lanes with a bar at every edge and the fates under the trigger', async () => {
    const { out } = await captured(['compute', file('good.tt.json', documentOf(boards, page)), '--only', 'look']);
    const [input = '', marks = '', timing = '', output = ''] = plain(out).split('\n').slice(6);
    expect(input).toMatch(/^ {2}in {6}▔+(┃+▔+)+ {2}/);
    // A mark for each of the 6 pulses, under the bar of its edge.
    expect(marks.trim().replaceAll(' ', '')).toBe('●○○●○○');
    expect(input[marks.indexOf('●')]).toBe('┃');
    expect(timing).toMatch(/timing {2}[▁▂▃▄▅▆▇█]{60} {2}0 V to 8.00 V/);
    expect(output).toMatch(/out {5}▁+┃▔+┃▁+┃▔+┃▁+ {2}/);
  });

  test('--json prints one JSON object of results by id and nothing else', async () => {
    const { status, out, messages } = await captured([
      'compute',
      file('good.tt.json', documentOf(boards, page)),
      '--json',
    ]);
    expect([status, messages]).toEqual([0, []]);
    const { results } = JSON.parse(out) as Printed;
    expect(Object.keys(results)).toEqual(['intro', 'circuit', 'look', 'why', 'numbers']);
    expect(Object.values(results).every(({ ok }) => ok === true)).toBe(true);
    expect(results['numbers']).toMatchObject({ kind: 'reading', values: { ratio: 3, never: null } });
    expect(Object.keys(results['numbers']?.['reasons'] as object)).toEqual(['never']);
    expect(results['why']).toMatchObject({
      kind: 'fates',
      counts: { started: 2, ignored: 4, held: 0, short: 0, barred: 0 },
    });
    expect(results['look']).toMatchObject({
      edges: { out: [{ time: 0.1, to: 'high' }, { to: 'low' }, { to: 'high' }, { to: 'low' }] },
    });
  });

  test('--only computes these cells alone, and refuses ids that the page does not have', async () => {
    const path = file('good.tt.json', documentOf(boards, page));
    const some = await captured(['compute', path, '--json', '--only', 'why,intro']);
    expect(Object.keys((JSON.parse(some.out) as Printed).results)).toEqual(['intro', 'why']);
    const none = await captured(['compute', path, '--json', '--only', 'nothing']);
    expect(none.status).toBe(2);
    expect((JSON.parse(none.out) as Printed).error?.message).toContain(
      '(intro, circuit, look, why, numbers); got "nothing"',
    );
  });

  test('--only does not mind a fault in a board that these cells do not use', async () => {
    const path = file('part.tt.json', documentOf({ ...boards, bad: { ready: 'none' } }, page));
    expect((await captured(['compute', path, '--only', 'numbers'])).status).toBe(0);
    expect((await captured(['compute', path])).status).toBe(1);
  });

  test('--csv writes the tables of every cell into a new folder and names them', async () => {
    const target = join(folder, 'tables', 'of good');
    const { status, out } = await captured([
      'compute',
      file('good.tt.json', documentOf(boards, page)),
      '--csv',
      target,
    ]);
    expect(status).toBe(0);
    expect(readdirSync(target).sort()).toEqual(['circuit.csv', 'look.csv', 'look.edges.csv', 'numbers.csv', 'why.csv']);
    expect(out).toContain(`Written: ${join(target, 'circuit.csv')}, `);
    expect(readFileSync(join(target, 'numbers.csv'), 'utf8')).toMatch(/^ratio,3,,"ratio\(out, in\)",\r$/m);
  });

  test('--svg draws every cell that has a chart, in a file of its own', async () => {
    const target = join(folder, 'charts');
    const path = file('good.tt.json', documentOf(boards, page));
    const { status, out } = await captured(['compute', path, '--svg', target]);
    expect(status).toBe(0);
    expect(readdirSync(target)).toEqual(['look.svg']);
    expect(out).toContain(`Written: ${join(target, 'look.svg')}\n`);
    expect(readFileSync(join(target, 'look.svg'), 'utf8')).toMatch(/^<svg xmlns=[^]*<\/svg>\n$/);
    const { messages } = await captured(['compute', path, '--svg', join(path, 'inside')]);
    expect(messages[0]).toMatch(/^compute: --svg must name a folder that can be written; got .+\. Choose another\.$/);
  });

  test.runIf(process.platform === 'linux')(
    '--csv with a folder under /proc says so instead of trying for ever',
    async () => {
      const path = file('good.tt.json', documentOf(boards, page));
      const { status, messages } = await captured(['compute', path, '--csv', '/proc/two-thirds']);
      expect(status).toBe(1);
      expect(messages[0]).toContain('--csv must name a folder that can be written; got /proc/two-thirds (ENOENT)');
    },
  );

  test('--csv with a folder that cannot be made says so, after everything is printed', async () => {
    const path = file('good.tt.json', documentOf(boards, page));
    const { status, out, messages } = await captured(['compute', path, '--csv', join(path, 'inside')]);
    expect(status).toBe(1);
    expect(messages[0]).toMatch(/^compute: --csv must name a folder that can be written; got .+\. Choose another\.$/);
    expect(out).toContain('Cautions');
  });

  test('a faulty cell says what is wrong in its place, and the others are there', async () => {
    const faulty = [...page, { ...page[4], id: 'broken', until: '6 V' }];
    const { status, out, messages } = await captured(['compute', file('faulty.tt.json', documentOf(boards, faulty))]);
    expect(status).toBe(1);
    expect(messages).toHaveLength(1);
    expect(out).toContain('broken: cannot be computed\n  page[5] (broken): until must be a time; got "6 V"');
    expect(plain(out)).toContain('A tick lasts 351 ms.');
  });

  test('a run that a short ends keeps what was computed before it, with status 1', async () => {
    const parts = [
      { name: 'BT1', kind: 'supply', plus: 'rail', minus: 'ground', voltage: '9 V' },
      { name: 'S1', kind: 'button', a: 'rail', b: 'ground', presses: [{ at: '1 s', for: '1 s' }] },
      { name: 'R1', kind: 'resistor', a: 'rail', b: 'ground', resistance: '1 kΩ' },
    ];
    const cell = { id: 'n', kind: 'reading', board: 'shorted', until: '3 s', take: { volts: 'mean(rail)' } };
    const { status, out } = await captured([
      'compute',
      file('short.tt.json', documentOf({ shorted: { parts } }, [cell])),
      '--json',
    ]);
    expect(status).toBe(1);
    const { results } = JSON.parse(out) as Printed;
    expect(results['n']).toMatchObject({
      ok: false,
      kind: 'reading',
      error: { where: 'page[0]' },
      partial: { values: { volts: 9 } },
    });
    expect((results['n']?.['error'] as { message: string }).message).toMatch(/BT1|S1/);
  });

  test('says under a cell which parts went beyond their limits', async () => {
    const parts = [
      { name: 'BT1', kind: 'supply', plus: 'rail', minus: 'ground', voltage: 9 },
      { name: 'R1', kind: 'resistor', a: 'rail', b: 'ground', resistance: 100 },
    ];
    const cell = { id: 'hot', kind: 'reading', board: 'one', until: 1, take: { heat: 'power(R1)' } };
    const { out } = await captured(['compute', file('hot.tt.json', documentOf({ one: { parts } }, [cell]))]);
    // 81 V^2 / 100 ohm is 0.81 W.
    expect(plain(out)).toContain('Beyond its limits:');
    expect(plain(out)).toContain('R1 took more than 250 mW at a time');
  });

  test('tells how far it is where somebody watches', async () => {
    const shares: number[] = [];
    const path = file('good.tt.json', documentOf(boards, page));
    await main(['compute', path], { out: () => {}, message: () => {}, progress: (share) => shares.push(share) });
    expect(shares.at(-1)).toBe(1);
  });

  test('an empty page prints its title and ends well', async () => {
    const { status, out } = await captured(['compute', file('empty.tt.json', documentOf({}, []))]);
    expect([status, out]).toEqual([0, 'Test page\n=========\n']);
  });
});

describe('two-thirds check FILE', () => {
  test('reports a good document without computing it', async () => {
    const { status, out, messages } = await captured(['check', file('good.tt.json', documentOf(boards, page))]);
    expect([status, out, messages]).toEqual([0, 'Test page, 1 board, 5 cells: no faults, no warnings\n', []]);
  });

  test('prints warnings, and faults on stderr', async () => {
    const parts = [
      { name: 'BT1', kind: 'supply', plus: 'rail', minus: 'ground', voltage: '9 V' },
      { name: 'R1', kind: 'resistor', a: 'rail', b: 'nowhere', resistance: '1 kΩ' },
    ];
    const data = documentOf({ lonely: { parts } }, [
      { id: 'look', kind: 'trace', board: 'lonely', until: '1 s', show: ['here'] },
    ]);
    const { status, out, messages } = await captured(['check', file('warned.tt.json', data)]);
    expect(status).toBe(1);
    expect(out).toMatch(/: 1 fault, 1 warning\nworth a look: boards\.lonely\.R1: b must be joined to some other part/);
    expect(messages).toHaveLength(1);
  });
});

describe('two-thirds and its arguments', () => {
  test('--help lists the commands and only the options there are', async () => {
    const { status, out } = await captured(['--help']);
    expect(status).toBe(0);
    expect(out).toContain('two-thirds compute FILE [--json] [--csv DIR] [--svg DIR] [--only ID,...]');
    expect(out).not.toMatch(/sheet/);
  });

  test('--version prints the version of the package', async () => {
    const { version } = JSON.parse(readFileSync(join(repository, 'packages/sim/package.json'), 'utf8')) as {
      version: string;
    };
    expect((await captured(['--version'])).out).toBe(`${version}\n`);
  });

  test.each([
    [[], 'the command must be compute, check or families; got nothing.'],
    [['run', 'x'], 'the command must be compute, check or families; got "run".'],
    [['compute'], 'FILE must be given; got nothing.'],
    [['compute', 'a', 'b'], 'one FILE must be given; got 2.'],
    [
      ['compute', 'a', '--png', 'b'],
      'options must be --json, --csv, --svg, --only, --workers, --shard, --merge, --capture, --help or --version; got --png.',
    ],
    [['compute', 'a', '--csv'], '--csv must be followed by a value; got nothing.'],
    [['compute', 'a', '--workers', '-1'], '--workers must be followed by a value; got nothing.'],
    [['compute', 'a', '--only', 'x,,y'], '--only must be followed by cell ids with commas between; got "x,,y".'],
    [['check', 'a', '--json'], '--json must be left out; it belongs to compute.'],
    [['compute', 'no-such-file.tt.json'], 'must be a file that can be read; got no file of that name.'],
    [['compute', '.'], 'must be a file; got a folder.'],
  ])('%j ends with status 2 and one message', async (argv, message) => {
    const { status, out, messages } = await captured(argv);
    expect(status).toBe(2);
    expect(messages).toHaveLength(1);
    expect(messages[0]).toContain(message);
    expect(out === '' || argv.includes('--json')).toBe(true);
  });

  test('a mistake with --json answers in JSON', async () => {
    const { out } = await captured(['compute', '--json']);
    expect((JSON.parse(out) as Printed).error).toEqual({
      message: expect.any(String) as string,
      where: 'command line',
    });
  });

  test('a file over the size limit is refused before it is read', async () => {
    const path = file('large.tt.json', ' '.repeat(5_000_001));
    const { status, messages } = await captured(['compute', path]);
    expect(status).toBe(2);
    expect(messages[0]).toContain('must be at most 5 MB long; got 5.0 MB.');
  });
});

describe('the built program', () => {
  test('runs by its name, as npm ci links it', () => {
    const path = file('good.tt.json', documentOf(boards, page));
    const run = spawnSync('npx', ['--no-install', 'two-thirds', 'compute', path, '--json'], {
      cwd: repository,
      encoding: 'utf8',
    });
    expect([run.status, run.stderr]).toEqual([0, '']);
    expect((JSON.parse(run.stdout) as Printed).results['numbers']).toMatchObject({ values: { ratio: 3 } });
  });

  test('takes a reader that goes away without a word', async () => {
    // Enough output to fill the pipe: a trace of 24 lanes is over 64 kB of JSON.
    const show = Array.from({ length: 24 }, () => 'timing');
    const path = file('wide.tt.json', documentOf(boards, [{ id: 'look', kind: 'trace', ...second, show }]));
    const program = join(repository, 'packages/sim/bin/two-thirds.js');
    const child = spawn(process.execPath, [program, 'compute', path, '--json'], { stdio: ['ignore', 'pipe', 'pipe'] });
    let messages = '';
    child.stderr.on('data', (data: Buffer) => (messages += data.toString()));
    child.stdout.once('data', () => child.stdout.destroy());
    const status = await new Promise((resolve) => child.on('close', resolve));
    expect([status, messages]).toEqual([0, '']);
  });

  test('is a committed plain JavaScript file', () => {
    expect(existsSync(join(repository, 'packages/sim/bin/two-thirds.js'))).toBe(true);
  });
});
