import type { Cause } from '@/lib/analysis/assessment';
import type { Kilopascals } from '@/lib/measure';

/** What one cause at one severity does to a visit of a sound unit, at sea level. */
export interface Signature {
  readonly cause: Exclude<Cause, 'cannot tell'>;
  readonly idleDrop: Kilopascals;
  readonly lowestDrop: Kilopascals;
  readonly recoveryRatio: number;
  readonly loss60: Kilopascals;
  readonly loss300: Kilopascals;
  /** Vacuum at raised speed less idle vacuum. */
  readonly raisedDifference: Kilopascals;
}

type Row = readonly [Signature['cause'], number, number, number, number, number, number];

/**
 * Table computed from a lumped model of pump, line, check valve and booster; the script and its
 * assumptions lie beside the tests (derive-signatures), and a test recomputes every row.
 * Severities of one cause are equally likely.
 */
const rows: readonly Row[] = [
  ['none shown', 0, 0, 1, 0.33, 1.66, 0.18],
  ['pump', 5.17, 3.22, 0.82, 0.32, 1.57, 0.15],
  ['pump', 8.62, 5.44, 0.72, 0.3, 1.5, 0.14],
  ['pump', 12.07, 7.69, 0.65, 0.29, 1.44, 0.13],
  ['pump', 15.51, 9.97, 0.58, 0.28, 1.38, 0.12],
  ['pump', 18.96, 12.29, 0.52, 0.27, 1.32, 0.11],
  ['pump', 22.41, 14.63, 0.47, 0.25, 1.26, 0.1],
  ['pump', 25.86, 17, 0.42, 0.24, 1.2, 0.09],
  ['pump', 29.3, 19.39, 0.38, 0.23, 1.14, 0.08],
  ['pump', 32.75, 21.81, 0.34, 0.22, 1.07, 0.07],
  ['pump', 36.2, 24.26, 0.29, 0.2, 1.01, 0.06],
  ['pump', 5.17, 3.11, 0.8, 0.32, 1.57, 2.35],
  ['pump', 8.62, 5.28, 0.7, 0.3, 1.5, 3.7],
  ['pump', 12.07, 7.51, 0.62, 0.29, 1.44, 4.98],
  ['pump', 15.51, 9.78, 0.56, 0.28, 1.38, 6.2],
  ['pump', 18.96, 12.1, 0.5, 0.27, 1.32, 7.34],
  ['pump', 22.41, 14.44, 0.45, 0.25, 1.26, 8.4],
  ['pump', 25.86, 16.82, 0.4, 0.24, 1.2, 9.38],
  ['pump', 29.3, 19.23, 0.36, 0.23, 1.14, 10.27],
  ['pump', 32.75, 21.66, 0.32, 0.22, 1.07, 11.06],
  ['pump', 36.2, 24.12, 0.29, 0.2, 1.01, 11.76],
  ['leak', 1.13, 0.59, 0.93, 8.5, 42.19, 0.36],
  ['leak', 1.4, 0.74, 0.92, 10.61, 52.62, 0.4],
  ['leak', 1.74, 0.92, 0.9, 13.27, 65.06, 0.45],
  ['leak', 2.15, 1.15, 0.87, 16.61, 78.19, 0.52],
  ['leak', 2.65, 1.43, 0.86, 20.82, 88.27, 0.6],
  ['leak', 3.25, 1.77, 0.83, 26.11, 89.74, 0.69],
  ['leak', 3.97, 2.19, 0.8, 32.78, 89.02, 0.81],
  ['leak', 4.83, 2.7, 0.76, 41.16, 88.15, 0.95],
  ['leak', 5.86, 3.32, 0.73, 51.58, 87.12, 1.12],
  ['leak', 7.09, 4.08, 0.7, 63.62, 85.89, 1.33],
  ['leak', 8.55, 5.01, 0.66, 75.36, 84.44, 1.59],
  ['leak', 10.28, 6.14, 0.63, 82.17, 82.71, 1.92],
  ['leak', 12.33, 7.52, 0.6, 80.66, 80.66, 2.34],
  ['leak', 14.76, 9.2, 0.55, 78.23, 78.23, 2.86],
  ['check valve', 0, 0, 1, 1.84, 8.84, 0.18],
  ['check valve', 0, 0, 1, 2.26, 10.76, 0.18],
  ['check valve', 0, 0, 1, 2.77, 13.06, 0.18],
  ['check valve', 0, 0, 1, 3.4, 15.81, 0.18],
  ['check valve', 0, 0, 1, 4.17, 19.06, 0.18],
  ['check valve', 0, 0, 1, 5.11, 22.88, 0.18],
  ['check valve', 0, 0, 1, 6.25, 27.31, 0.18],
  ['check valve', 0, 0, 1, 7.63, 32.38, 0.18],
  ['check valve', 0, 0, 1, 9.3, 38.09, 0.18],
  ['check valve', 0, 0, 1, 11.32, 44.39, 0.18],
  ['restricted line', 0, 2.82, 1.95, 0.33, 1.66, 0.18],
  ['restricted line', 0, 3.44, 2.31, 0.33, 1.66, 0.18],
  ['restricted line', 0, 4.07, 2.78, 0.33, 1.66, 0.18],
  ['restricted line', 0, 4.69, 3.42, 0.33, 1.66, 0.18],
  ['restricted line', 0, 5.28, 4.29, 0.33, 1.66, 0.18],
  ['restricted line', 0, 5.83, 5.04, 0.33, 1.66, 0.18],
  ['restricted line', 0, 6.32, 5.04, 0.33, 1.66, 0.18],
  ['restricted line', 0, 6.75, 5.04, 0.33, 1.66, 0.18],
  ['restricted line', 0, 7.11, 5.04, 0.33, 1.66, 0.18],
  ['restricted line', 0, 7.4, 5.04, 0.33, 1.66, 0.18],
  ['slipping belt', 0.15, 1.24, 1.22, 0.33, 1.66, 0.24],
  ['slipping belt', 0.2, 1.58, 1.29, 0.33, 1.66, 0.27],
  ['slipping belt', 0.26, 1.97, 1.38, 0.33, 1.65, 0.29],
  ['slipping belt', 0.34, 2.4, 1.49, 0.33, 1.65, 0.32],
  ['slipping belt', 0.43, 2.89, 1.62, 0.33, 1.65, 0.36],
  ['slipping belt', 0.55, 3.43, 1.79, 0.33, 1.65, 0.42],
  ['slipping belt', 0.71, 4.06, 2.03, 0.33, 1.65, 0.49],
  ['slipping belt', 0.93, 4.78, 2.36, 0.33, 1.64, 0.58],
  ['slipping belt', 1.27, 5.65, 2.87, 0.33, 1.64, 0.73],
  ['slipping belt', 1.83, 6.74, 3.71, 0.33, 1.63, 0.97],
  ['slipping belt', 2.98, 8.31, 5.04, 0.32, 1.61, 1.45],
  ['slipping belt', 6.61, 11.61, 5.04, 0.31, 1.54, 2.92],
];

export const signatures: readonly Signature[] = rows.map(
  ([cause, idleDrop, lowestDrop, recoveryRatio, loss60, loss300, raisedDifference]) => ({
    cause,
    idleDrop,
    lowestDrop,
    recoveryRatio,
    loss60,
    loss300,
    raisedDifference,
  }),
);
