import type { Window } from '@two-thirds/sim/chart';

export type { Window };

/** How much closer or wider one step of zooming goes. */
export const ZOOM_STEP = 1.6;
/** Share of a view by which one step of panning goes. */
export const PAN_STEP = 0.25;
/** Share of a view that stays between the cursor and its edge when the view follows the cursor. */
const MARGIN = 0.1;
/** Closest view, as a share of the end of the whole: a hundred thousand times the spacing of doubles there. */
const CLOSEST = 1e-10;
/** No view is shorter than this (s); nothing in these circuits is. */
const SHORTEST = 1e-12;

/** Shortest view that a whole run can be looked at in (s). */
function shortest(whole: Window): number {
  return Math.min(whole.until - whole.from, Math.max(SHORTEST, Math.abs(whole.until) * CLOSEST));
}

/** A view of this length that holds a time at the given share of its width, kept inside the whole. */
function placed(whole: Window, length: number, time: number, share: number): Window {
  const span = Math.min(whole.until - whole.from, Math.max(shortest(whole), length));
  const from = Math.min(whole.until - span, Math.max(whole.from, time - share * span));
  // The ends are exactly those of the whole where they meet, so that the view can be told to be whole.
  const until = from + span >= whole.until ? whole.until : from + span;
  return { from: span >= whole.until - whole.from ? whole.from : from, until };
}

/** Whether a view shows the whole. */
export function isWhole(view: Window, whole: Window): boolean {
  return view.from <= whole.from && view.until >= whole.until;
}

/** The view, zoomed about a time that keeps its place. `factor` above 1 shows less, below 1 more. */
export function zoomed(view: Window, whole: Window, about: number, factor: number): Window {
  const length = view.until - view.from;
  return placed(whole, length / factor, about, (about - view.from) / length);
}

/** The view, moved by a time: later for a positive one. */
export function panned(view: Window, whole: Window, by: number): Window {
  return placed(whole, view.until - view.from, view.from + by, 0);
}

/** The view between two times in either order. */
export function spanning(whole: Window, one: number, other: number): Window {
  const from = Math.max(whole.from, Math.min(one, other));
  const until = Math.min(whole.until, Math.max(one, other));
  return placed(whole, until - from, (from + until) / 2, 0.5);
}

/** The view, moved no further than it takes to have a time well inside. */
export function following(view: Window, whole: Window, time: number): Window {
  if (time >= view.from && time <= view.until) return view;
  return placed(whole, view.until - view.from, time, time < view.from ? MARGIN : 1 - MARGIN);
}

/** The view in which two times lie at two shares of the width: what two fingers that move apart ask for. */
export function pinched(
  whole: Window,
  one: { readonly time: number; readonly share: number },
  other: { readonly time: number; readonly share: number },
): Window | undefined {
  const apart = other.share - one.share;
  const length = (other.time - one.time) / apart;
  return Number.isFinite(length) && length > 0 ? placed(whole, length, one.time, one.share) : undefined;
}

/** The view kept inside a whole that has changed; undefined where it no longer lies in it. */
export function keptInside(view: Window, whole: Window): Window | undefined {
  return view.until <= whole.from || view.from >= whole.until ? undefined : spanning(whole, view.from, view.until);
}

/** Significant digits that tell apart the times of a view that is `steps` wide. */
export function timeDigits(view: Window, steps: number): number {
  const greatest = Math.max(Math.abs(view.from), Math.abs(view.until));
  const digits = Math.ceil(Math.log10((greatest * steps) / (view.until - view.from)));
  return Math.min(15, Math.max(4, Number.isFinite(digits) ? digits : 4));
}
