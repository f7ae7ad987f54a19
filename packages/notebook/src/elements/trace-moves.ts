import type { TraceResult } from '@two-thirds/sim/document';
import { eventTimes } from '../chart/cursor.ts';
import { isWhole, PAN_STEP, panned, type Window, ZOOM_STEP, zoomed } from '../chart/view.ts';
import type { LaneTool } from './tt-lane-tools.ts';

/** The cursor moves by this share of the view at one key press, and by ten times as much with Shift. */
export const KEY_STEP = 1 / 400;
const FAR = 10;

/** The keys of the tools that change the view. */
const toolKeys: Readonly<Record<string, LaneTool>> = {
  '+': 'closer',
  '=': 'closer',
  '-': 'wider',
  ',': 'earlier',
  '.': 'later',
  '0': 'whole',
};

/** What a key does at a trace: moves the cursor to a time (s), where there is one to go to, or uses a tool. */
export type KeyMove = { readonly time: number | undefined } | { readonly tool: LaneTool };

/** What a key does; undefined for one that means nothing here. @param now where the cursor is (s). */
export function keyMove(
  { key, shiftKey }: Pick<KeyboardEvent, 'key' | 'shiftKey'>,
  trace: TraceResult,
  view: Window,
  now: number,
): KeyMove | undefined {
  const step = (view.until - view.from) * KEY_STEP * (shiftKey ? FAR : 1);
  const targets: Readonly<Record<string, () => number | undefined>> = {
    ArrowRight: () => now + step,
    ArrowUp: () => now + step,
    ArrowLeft: () => now - step,
    ArrowDown: () => now - step,
    Home: () => trace.from,
    End: () => trace.until,
    PageDown: () => eventTimes(trace).find((time) => time > now),
    PageUp: () => eventTimes(trace).findLast((time) => time < now),
  };
  const target = targets[key];
  if (target !== undefined) return { time: target() };
  const tool = toolKeys[key];
  return tool === undefined ? undefined : { tool };
}

/** What is looked at once a tool has been used that changes the view. @param cursor where it is (s), if anywhere. */
export function viewWith(
  tool: Exclude<LaneTool, 'csv' | 'svg'>,
  view: Window,
  whole: Window,
  cursor: number | undefined,
): Window {
  const isInView = cursor !== undefined && cursor >= view.from && cursor <= view.until;
  const about = isInView ? cursor : (view.from + view.until) / 2;
  const by = PAN_STEP * (view.until - view.from);
  switch (tool) {
    case 'closer':
      return zoomed(view, whole, about, ZOOM_STEP);
    case 'wider':
      return zoomed(view, whole, about, 1 / ZOOM_STEP);
    case 'earlier':
      return panned(view, whole, -by);
    case 'later':
      return panned(view, whole, by);
    case 'whole':
      return whole;
  }
}

/** The tools that would change nothing. @param isWaiting whether the part that is looked at is still computed. */
export function idleTools(view: Window, whole: Window, isWaiting: boolean): ReadonlySet<LaneTool> {
  const idle = new Set<LaneTool>();
  if (isWhole(view, whole)) idle.add('wider').add('whole');
  if (view.from <= whole.from) idle.add('earlier');
  if (view.until >= whole.until) idle.add('later');
  if (isWaiting) idle.add('csv');
  return idle;
}
