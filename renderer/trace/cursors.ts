/** Two cursors that a person puts on the trace, in µs; `null` where one is not set. */
export interface Cursors {
  readonly firstUs: number | null;
  readonly secondUs: number | null;
}

export const noCursors: Cursors = { firstUs: null, secondUs: null };
