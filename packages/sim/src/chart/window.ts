/** A stretch of time that is looked at, in seconds. */
export interface Window {
  readonly from: number;
  readonly until: number;
}
