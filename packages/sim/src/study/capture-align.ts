import type { Capture } from '../capture/capture.ts';
import type { EdgeRow } from '../measure/rows.ts';

/**
 * How the time of a capture is laid over the time of the run: by the first edge of a channel (either edge where `to` is left
 * out), by the first edge of any channel (`first edge`), or not at all (`as it is`).
 */
export type AlignBy = 'first edge' | 'as it is' | { readonly channel: number; readonly to?: 'high' | 'low' };

/** A capture laid over a run. */
export interface Alignment {
  /** What is added to a time of the capture to have the time of the run (s). */
  readonly offset: number;
  /** Whether it came from an edge, which is uncertain itself, so that a fit moves it as well. */
  readonly byEdge: boolean;
  /** The edge it came from: channel, and its position among the channel's edges; undefined without one. */
  readonly edge?: { readonly channel: number; readonly index: number };
  /** For each channel, what is added to the position of a measured edge to have that of its predicted one; null for none. */
  readonly shifts: readonly (number | null)[];
}

/** Lays a capture over predicted edges, or says why it cannot be done. */
export function alignCapture(
  capture: Capture,
  predicted: readonly (readonly EdgeRow[])[],
  by: AlignBy,
): Alignment | { readonly failed: string } {
  if (by === 'as it is') return { offset: 0, byEdge: false, shifts: shiftsAt(capture, predicted, 0) };
  const wanted =
    by === 'first edge'
      ? edgedChannels(capture).map((channel) => ({ channel, to: undefined }))
      : [{ to: undefined, ...by }];
  for (const { channel, to } of wanted) {
    const measured = capture.channels[channel]?.edges ?? [];
    const index = measured.findIndex((edge) => !edge.inGap && (to === undefined || edge.to === to));
    const edge = measured[index];
    if (edge === undefined) continue;
    const counterpart = (predicted[channel] ?? []).findIndex((row) => row.to === edge.to);
    const row = predicted[channel]?.[counterpart];
    if (row === undefined) continue;
    const offset = row.time - edge.time;
    const shifts = shiftsAt(capture, predicted, offset);
    shifts[channel] = counterpart - index;
    return { offset, byEdge: true, edge: { channel, index }, shifts };
  }
  if (by === 'first edge') return { offset: 0, byEdge: false, shifts: shiftsAt(capture, predicted, 0) };
  const what = by.to === undefined ? 'edge' : by.to === 'high' ? 'rise' : 'fall';
  const { net, edges } = capture.channels[by.channel]!;
  const there = edges.some((edge) => !edge.inGap && (by.to === undefined || edge.to === by.to));
  return {
    failed: `${there ? 'the prediction' : 'the capture'} has no ${what} of ${net} to lay the two over each other by`,
  };
}

/** Channels with edges, those first whose first edge is a jump and so has the surest time. */
export function edgedChannels({ channels }: Capture): number[] {
  const first = channels.flatMap(({ edges }, channel) => {
    const edge = edges.find(({ inGap }) => !inGap);
    return edge === undefined ? [] : [{ channel, steep: edge.steep }];
  });
  return [...first.filter(({ steep }) => steep), ...first.filter(({ steep }) => !steep)].map(({ channel }) => channel);
}

/** Pairs every channel by its first measured edge and the nearest predicted one of the same kind. */
function shiftsAt(capture: Capture, predicted: readonly (readonly EdgeRow[])[], offset: number): (number | null)[] {
  return capture.channels.map(({ edges }, channel) => {
    const index = edges.findIndex(({ inGap }) => !inGap);
    const first = edges[index];
    if (first === undefined) return null;
    let best: number | null = null;
    let least = Infinity;
    for (const [position, row] of (predicted[channel] ?? []).entries()) {
      const distance = Math.abs(row.time - first.time - offset);
      if (row.to !== first.to || distance >= least) continue;
      least = distance;
      best = position - index;
    }
    return best;
  });
}
