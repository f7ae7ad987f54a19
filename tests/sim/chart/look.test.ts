import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import {
  captureLook,
  type Look,
  claimLook,
  fateLook,
  lightInks,
  mapLook,
  patternLook,
  spreadLook,
  studyLook,
  sweepLook,
  traceLook,
} from '#sim/chart/look.ts';
import { contrast } from '#sim/chart/ramp.ts';
import { describe, expect, test } from 'vitest';

const tokens = readFileSync(join(import.meta.dirname, '../../../packages/notebook/src/styles/tokens.ts'), 'utf8');

describe('lightInks', () => {
  test('are those of the light theme of the notebook', () => {
    const light = Object.fromEntries(
      [...tokens.matchAll(/--([\w-]+): light-dark\((#\w+), #\w+\)/g)].map(([, name, ink]) => [name, ink]),
    );
    const { hatched: _, ...shared } = lightInks;
    expect(light).toMatchObject(shared);
  });

  // 4.5:1 for text (WCAG 2.2, 1.4.3).
  test.each(['ink', 'quiet', 'slate', 'rust', 'moss', 'plum', 'gold', 'teal'] as const)(
    '%s reads well on the ground',
    (ink) => {
      expect(contrast(lightInks[ink], lightInks.ground)).toBeGreaterThanOrEqual(4.5);
    },
  );
});

describe('looks', () => {
  const looks: Readonly<Record<string, Look>> = {
    captureLook,
    claimLook,
    fateLook,
    mapLook,
    patternLook,
    spreadLook,
    studyLook,
    sweepLook,
    traceLook,
  };
  test.each(Object.entries(looks))('%s takes every ink by its name', (_, look) => {
    const asked = new Set<string>();
    const sheet = look((ink) => {
      asked.add(ink);
      return `<${ink}>`;
    });
    expect(asked.size).toBeGreaterThan(0);
    expect(sheet).not.toMatch(/#[0-9a-f]{3,8}\b|undefined/);
    expect(sheet.match(/\{/g)?.length).toBe(sheet.match(/\}/g)?.length);
  });
});
