import { describe, expect, it } from 'vitest';
import { contactObserver, type ContactWatch } from '#sim/trace/contact-observer.ts';
import { instantObserver } from '#sim/trace/instant-observer.ts';
import { type MadeRun, type MadeStep, play } from '../../support/made-run.ts';

const wait = (length: number): MadeStep => ({ length, signals: {} });
const does = (part: string, kind: 'close' | 'open' | 'pulledIn' | 'droppedOut'): MadeStep => ({
  event: { part, kind },
});

/** S1 is pressed at 1 s, bounces once, and is let go at 4 s; S2 does something else. All times are exact in binary. */
const pressed: MadeRun = {
  nets: ['ground'],
  steps: [
    wait(1),
    does('S1', 'close'),
    wait(0.25),
    does('S1', 'open'),
    does('S2', 'open'),
    wait(0.25),
    does('S1', 'close'),
    wait(2.5),
    does('S1', 'open'),
    wait(1),
  ],
};

/** K1 pulls in at 1 s with one bounce, drops out at 3 s with one bounce. */
const pulled: MadeRun = {
  nets: ['ground'],
  steps: [
    wait(1),
    does('K1', 'pulledIn'),
    wait(0.25),
    does('K1', 'open'),
    wait(0.25),
    does('K1', 'close'),
    wait(1.5),
    does('K1', 'droppedOut'),
    wait(0.25),
    does('K1', 'open'),
    wait(0.25),
    does('K1', 'close'),
    wait(1.5),
  ],
};

const button: ContactWatch = { part: 'S1', by: 'hand', closed: false };
const make: ContactWatch = { part: 'K1', by: 'pulled', closed: false };
const rest: ContactWatch = { part: 'K1', by: 'dropped', closed: true };

function watched(run: MadeRun, watch: ContactWatch, window = { from: 0, until: 5 }, most = 100) {
  const observer = contactObserver(watch, { ...window, columns: 5 }, most);
  play(run, observer);
  return observer.result();
}

/** Edges as text: `1 closed`. */
const edges = (run: MadeRun, watch: ContactWatch, window?: { from: number; until: number }): string[] =>
  watched(run, watch, window).edges.map(({ time, to }) => `${time} ${to}`);

describe('contactObserver(watch, window, most)', () => {
  it('tells when the contact of its part closes and opens, bounces included', () => {
    expect(edges(pressed, button)).toEqual(['1 closed', '1.25 open', '1.5 closed', '4 open']);
  });

  it('has 1 in columns where it conducts, 0 where not, and both where it changes inside', () => {
    const { envelope } = watched(pressed, button);
    expect(envelope.low).toEqual([0, 0, 1, 1, 0]);
    expect(envelope.high).toEqual([0, 1, 1, 1, 0]);
    expect(envelope.first).toEqual([0, 1, 1, 1, 0]);
  });

  it('lists what happens inside the window alone, and knows how the contact stood before', () => {
    expect(edges(pressed, button, { from: 1.375, until: 3 })).toEqual(['1.5 closed']);
    expect(watched(pressed, button, { from: 2, until: 3 }).envelope.low).toEqual([1, 1, 1, 1, 1]);
  });

  it('lists no more edges than asked for, and says so', () => {
    const { edges: listed, cut } = watched(pressed, button, { from: 0, until: 5 }, 2);
    expect([listed.length, cut]).toEqual([2, true]);
  });

  it('closes the make contact of a relay while it is pulled in and touches', () => {
    expect(edges(pulled, make)).toEqual(['1 closed', '1.25 open', '1.5 closed', '3 open']);
  });

  it('closes the break contact of a relay while it has dropped out and touches', () => {
    expect(edges(pulled, rest)).toEqual(['1 open', '3 closed', '3.25 open', '3.5 closed']);
  });

  it('has no edge where a contact ends an instant as it began it', () => {
    const run: MadeRun = { nets: ['ground'], steps: [wait(1), does('S1', 'close'), does('S1', 'open'), wait(1)] };
    expect(edges(run, button)).toEqual([]);
  });
});

describe('instantObserver(times, contacts)', () => {
  it('tells which contacts conduct at an instant, after what happens there', () => {
    const observer = instantObserver([0.5, 1, 1.3, 4], [button]);
    play(pressed, observer);
    expect(observer.result().map(({ closed }) => [...closed])).toEqual([[], ['S1'], [], []]);
  });
});
