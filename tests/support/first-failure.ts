import { configureGlobal, readConfigureGlobal } from 'fast-check';

/** A mutant is found by the first case that fails; the simplest such case is of no interest. */
configureGlobal({ ...readConfigureGlobal(), endOnFailure: true });
