/** Rows of the largest pack: some 300 pages. */
export const mostRows = 6_000;

/** The days of a scope as instants, the end not included. */
export interface PackSpan {
  readonly unitId: string | null;
  readonly from: Date;
  readonly until: Date;
}
