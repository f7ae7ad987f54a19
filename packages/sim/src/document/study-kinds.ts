/** Kinds of cells that compute many runs, cut into jobs. */
export const studyKinds = ['sweep', 'map', 'spread', 'choose', 'claim', 'capture', 'symptoms', 'swaps'] as const;
