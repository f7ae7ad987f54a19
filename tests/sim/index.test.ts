import { expect, test } from 'vitest';
import * as sim from '#sim/index.ts';

test('@two-thirds/sim exports just these names', () => {
  expect(Object.keys(sim).sort()).toEqual([
    'IssueError',
    'LiveRun',
    'StoredTrace',
    'cautions',
    'checkCircuit',
    'computeCell',
    'computeDocument',
    'dangers',
    'edgeObserver',
    'fateObserver',
    'faultObserver',
    'formatQuantity',
    'highLevel',
    'parseDocument',
    'parseQuantity',
    'parseReading',
    'predictBoard',
    'readQuantity',
    'readingObserver',
    'readyBoards',
    'runCircuit',
    'simulate',
    'standardKinds',
    'timerFamilies',
    'timerParameters',
    'timersOf',
  ]);
});
