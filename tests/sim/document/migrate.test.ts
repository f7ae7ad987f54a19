import { type Migration, migrate } from '#sim/document/migrate.ts';
import { describe, expect, test } from 'vitest';

const document = (version: unknown): object => ({ format: 'two-thirds', version, page: [] });

describe('migrate(data)', () => {
  test('leaves data of the current version as they are', () => {
    expect(migrate(document(1))).toEqual({ ok: true, data: document(1) });
  });

  test('refuses a later version and says that the file was left alone', () => {
    const migrated = migrate(document(2));
    expect(migrated.ok ? '' : migrated.unusable.message).toContain(
      'later version of this program and was left untouched',
    );
  });

  test.each([0, -1, 1.5, '1', null, undefined, NaN])('refuses version %s', (version) => {
    expect(migrate(document(version)).ok).toBe(false);
  });

  test('goes from version to version in order, without touching what it was given', () => {
    const steps = new Map<number, Migration>([
      [1, (data) => ({ ...data, page: ['one'] })],
      [2, (data) => ({ ...data, page: [...(data['page'] as string[]), 'two'] })],
    ]);
    const given = Object.freeze(document(1));
    expect(migrate(given, 3, steps)).toEqual({ ok: true, data: { ...document(3), page: ['one', 'two'] } });
    expect(given).toEqual(document(1));
  });
});
