import { WhatIfController } from '#notebook/controllers/what-if-controller.ts';
import { withValue } from '#notebook/edit/path.ts';
import { ask } from '#notebook/edit/what-if.ts';
import type { Job, RunListener } from '#notebook/worker/protocol.ts';
import { beforeEach, describe, expect, type Mock, test, vi } from 'vitest';

const page = {
  boards: { lamp: { ready: 'monostable', values: { BT1: '12 V' } } },
  page: [{ id: 'numbers', kind: 'reading', board: 'lamp', until: '8 s', take: { width: 'width(out)' } }],
};
const nine = { part: 'BT1', steps: ['voltage'], value: '9 V' };
const words = { words: '9 V', told: 'a supply of 9 V', label: 'BT1 to 9 V' };
const edit = ask(page, 'lamp', { key: 'nine', ...words, notes: [], values: [nine] }, []);
const document = withValue(page, edit?.path ?? [], edit?.value);
const asked = edit?.whatIf?.on === undefined ? [] : [edit.whatIf.on];

interface Started {
  readonly listener: RunListener;
  readonly jobs: Job[];
  readonly lose: (message: string) => void;
}

let workers: Started[];
let changed: Mock<() => void>;
let controller: WhatIfController;

beforeEach(() => {
  workers = [];
  changed = vi.fn<() => void>();
  const host = { addController: () => undefined } as unknown as ConstructorParameters<typeof WhatIfController>[0];
  const pending = (): Promise<void> => new Promise(() => undefined);
  controller = new WhatIfController(
    host,
    (listener, lose) => {
      const jobs: Job[] = [];
      workers.push({ listener, jobs, lose });
      const compute = (_run: number, job: Job): Promise<void> => {
        jobs.push(job);
        return pending();
      };
      return { simulation: { connect: pending, compute, cancel: pending }, terminate: () => undefined };
    },
    changed,
  );
});

describe('WhatIfController', () => {
  test('asks a new worker by itself where one is lost at work', () => {
    controller.show(document, asked);
    workers[0]!.lose('the worker broke down');
    expect(workers).toHaveLength(2);
    expect(workers[1]!.jobs).toEqual(workers[0]!.jobs);
  });

  test('asks once, not for ever, and again with the next change', () => {
    controller.show(document, asked);
    workers[0]!.lose('the worker broke down');
    workers[1]!.lose('the worker broke down');
    expect(workers).toHaveLength(2);
    controller.show(withValue(document, ['title'], 'Platform lamp'), asked);
    expect(workers).toHaveLength(3);
  });

  test('tells what the new worker found', () => {
    controller.show(document, asked);
    workers[0]!.lose('the worker broke down');
    workers[1]!.listener.results(2, [['numbers', { kind: 'note', ok: true, quotes: {} }]]);
    expect(changed).toHaveBeenCalledOnce();
  });
});
