/** Rows that the page lists with a box each. Own choice. */
export const unitsListed = 200;

/** What one act on a whole list takes: more than the bays of most fleets hold in thirteen weeks. Own choice. */
export const unitsAtMost = 2000;
