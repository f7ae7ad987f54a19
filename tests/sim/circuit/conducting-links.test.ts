import { conductingLinks } from '#sim/circuit/conducting-links.ts';
import type { Part } from '#sim/circuit/description.ts';
import { standardKinds } from '#sim/device/standard-kinds.ts';
import { describe, expect, test } from 'vitest';

/** Kinds through which no lasting current flows: a capacitor, and a finger, whose other end is no net. */
const BLOCKING = ['capacitor', 'finger'];

/** A part of a kind, each of its terminals on a net of its own; numbers are 1. */
function partOf(kind: string): Part {
  const { terminals, fields } = standardKinds.get(kind) ?? { terminals: [], fields: [] };
  const numbers = Object.fromEntries(fields.map(({ name }) => [name, 1]));
  return {
    name: 'X1',
    kind,
    nets: Object.fromEntries(terminals.map(({ name }) => [name, name])),
    values: { ...numbers, polarity: 'npn', parameters: {} },
  };
}

describe('conductingLinks(circuit)', () => {
  test.each([...standardKinds.keys()])('knows how a %s conducts: dangers are judged by it', (kind) => {
    const part = partOf(kind);
    const links = conductingLinks({ parts: [part], nets: Object.values(part.nets) });
    expect(links.length > 0).toBe(!BLOCKING.includes(kind));
  });
});
