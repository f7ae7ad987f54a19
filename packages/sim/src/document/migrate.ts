import type { Issue } from '../core/errors.ts';
import { FORMAT, VERSION } from './notebook-document.ts';
import { fault, foundData } from './schema-wording.ts';

/** Turns the data of one version into the data of the next, without changing what it was given. */
export type Migration = (data: Readonly<Record<string, unknown>>) => Record<string, unknown>;

/**
 * Migrations by the version they start from: entry 1 makes version 2 out of version 1, and so on. Empty as long as there
 * is one version. A new version adds its entry here and keeps all earlier ones.
 */
const migrations: ReadonlyMap<number, Migration> = new Map();

/** Data of the current version, or why the file cannot be used. */
export type Migrated =
  | { readonly ok: true; readonly data: Readonly<Record<string, unknown>> }
  | { readonly ok: false; readonly unusable: Issue };

/**
 * Checks `format` and `version` and brings data of an earlier version up to `current`, step by step. Data of a later
 * version is refused, for it may mean things this program does not know.
 *
 * @param steps the known migrations; every version from 1 to `current` - 1 must have one.
 */
export function migrate(data: unknown, current = VERSION, steps = migrations): Migrated {
  if (typeof data !== 'object' || data === null || Array.isArray(data)) {
    const rule = `be an object that begins { "format": "${FORMAT}", "version": ${current}, ... }`;
    return refuse('wrong-format', 'document', {
      label: 'the document',
      rule,
      got: foundData(data),
      advice: 'Open a notebook document (*.tt.json).',
    });
  }
  let migrated: Readonly<Record<string, unknown>> = { ...data };
  const { format, version } = migrated;
  if (format !== FORMAT) {
    const advice = 'This file does not say that it is a notebook document of this program.';
    return refuse('wrong-format', 'format', { rule: `be "${FORMAT}"`, got: foundData(format), advice });
  }
  if (typeof version !== 'number' || !Number.isInteger(version) || version < 1) {
    const rule = current === 1 ? 'be 1' : `be a whole number from 1 to ${current}`;
    return refuse('wrong-version', 'version', { rule, got: foundData(version), advice: `Write ${current}.` });
  }
  if (version > current) {
    const advice = 'The file was written by a later version of this program and was left untouched. Open it there.';
    return refuse('later-version', 'version', { rule: `be at most ${current}`, got: String(version), advice });
  }
  for (let at = version; at < current; at += 1) {
    const step = steps.get(at);
    if (step === undefined)
      throw new RangeError(`migrate: steps must lead from version ${at} to ${at + 1}; got none. Add one.`);
    migrated = { ...step(migrated), version: at + 1 };
  }
  return { ok: true, data: migrated };
}

function refuse(code: string, where: string, words: Parameters<typeof fault>[2]): Migrated {
  return { ok: false, unusable: fault(code, where, words) };
}
