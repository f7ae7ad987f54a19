import fc from 'fast-check';

/** The inner nets of a random circuit. */
export const nets: readonly string[] = ['n1', 'n2', 'n3', 'n4', 'n5'];

/** One of them. */
export const net = fc.constantFrom(...nets);
