/** The name by which a worker inside a page of one file knows that it runs a board by hand. */
export const LIVE = 'live';
