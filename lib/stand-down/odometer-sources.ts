/** Where the odometer of a unit out of service was seen, other than in a reading or a work order. */
export const odometerSources = ['where it stands', 'trip sheet', 'road test'] as const;
export type OdometerSource = (typeof odometerSources)[number];
