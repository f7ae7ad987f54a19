import { familyChanges } from '#sim/device/family-changes.ts';
import { timerFamilies, timerParameters } from '#sim/device/families.ts';
import { describe, expect, test } from 'vitest';
import { captured } from '../../support/captured-output.ts';
import { plain } from '../../support/circuit-issues.ts';

describe('familyChanges(from, to)', () => {
  test('is empty from a family to itself, and the reverse of itself the other way round', () => {
    for (const from of timerFamilies) {
      expect(familyChanges(from, from)).toEqual([]);
      for (const to of timerFamilies) {
        const back = familyChanges(to, from).map((change) => [change.parameter, change.to, change.from]);
        const there = familyChanges(from, to).map((change) => [change.parameter, change.from, change.to]);
        expect(new Set(there.map(String))).toEqual(new Set(back.map(String)));
      }
    }
  });

  test('names exactly the parameters that differ, with a source on both sides', () => {
    const [before, after] = [timerParameters('bipolar'), timerParameters('cmos')];
    const differing = Object.keys(after).filter((name) => before[name as 'delay'] !== after[name as 'delay']);
    const changes = familyChanges('bipolar', 'cmos');
    expect(changes.map(({ parameter }) => parameter).sort()).toEqual(differing.sort());
    for (const { fromSource, toSource, sentence } of changes) {
      expect(fromSource.length * toSource.length).toBeGreaterThan(0);
      expect(sentence).not.toMatch(/undefined|NaN|Infinity/);
    }
  });

  test('says it in words, with units', () => {
    const sentences = familyChanges('bipolar', 'cmos').map(({ sentence }) => plain(sentence));
    expect(sentences).toContain('each of the three resistors of the divider: 100 kΩ, was 5 kΩ');
    expect(sentences).toContain('high output below the supply, without load: none, was 1.3 V');
    expect(sentences).toContain('high output only gives current, low output only takes it: no, was yes');
    expect(sentences).toContain('how far above the supply the junction of TRIGGER conducts: 600 mV, was no junction');
    const ideal = familyChanges('cmos', 'ideal').map(({ sentence }) => plain(sentence));
    expect(ideal).toContain('largest current the high output gives: no limit, was 10 mA');
  });

  test('a family that does not exist is refused by name', () => {
    expect(() => familyChanges('bipolar', 'relay' as 'cmos')).toThrow('one of ideal, bipolar, cmos; got relay');
  });
});

describe('two-thirds families', () => {
  test('prints the changes with their sources', async () => {
    const { status, out, messages } = await captured(['families', 'bipolar', 'cmos']);
    expect([status, messages]).toEqual([0, []]);
    const text = plain(out).replace(/\s+/g, ' ');
    expect(text).toContain('From bipolar to cmos: what changes.');
    expect(text).toContain(
      'dividerResistance each of the three resistors of the divider: 100 kΩ, was 5 kΩ (ICM p. 8-172',
    );
    expect(text).toContain(' Documents: TLC: Texas Instruments TLC555 data sheet SLFS043C, 1997 LMC: ');
  });

  test('asks for two families that exist', async () => {
    for (const typed of [['families'], ['families', 'cmos'], ['families', 'cmos', 'relay']]) {
      const { status, messages } = await captured(typed);
      expect(status).toBe(2);
      expect(messages.join(' ')).toContain('two of ideal, bipolar, cmos must be given');
    }
  });
});
