import type { SegmentView } from '../trace/frame.ts';
import type { Window } from './context.ts';

/** The local times between which a segment lies inside a window; `undefined` if it does not. */
export function clip(
  segment: SegmentView,
  window: Window,
): { readonly begin: number; readonly end: number } | undefined {
  const begin = Math.max(0, window.from - segment.start - segment.startLow);
  const end = Math.min(segment.length, window.until - segment.start - segment.startLow);
  return end > begin ? { begin, end } : undefined;
}
