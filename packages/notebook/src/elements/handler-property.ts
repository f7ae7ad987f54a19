/**
 * Options of a property that holds what to call: whoever sets it makes a new function each time, the newest is the one
 * that is called, and nothing has to be drawn anew for it.
 */
export const handler = { attribute: false, hasChanged: (): boolean => false } as const;
