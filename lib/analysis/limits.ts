import {
  type Kilometres,
  type Kilopascals,
  type Seconds,
  toKilometres,
  toKilopascals,
} from '@/lib/measure';

/**
 * The fleet's dated set of limit values. Crossed strictly, on unrounded SI values.
 * `SLE` limits judge wear on the sea-level equivalent; `as read` limits judge the vacuum that is there.
 */
export interface Limits {
  readonly version: number;
  readonly idleCautionSle: Kilopascals;
  readonly idleStopAsRead: Kilopascals;
  readonly lowestCautionSle: Kilopascals;
  readonly lowestStopAsRead: Kilopascals;
  readonly belowBaselineSle: Kilopascals;
  readonly recoveryCaution: Seconds;
  readonly recoveryCautionTimesBaseline: number;
  readonly recoveryStop: Seconds;
  readonly hold60Caution: Kilopascals;
  readonly hold60Stop: Kilopascals;
  readonly hold300Caution: Kilopascals;
  readonly hold300Stop: Kilopascals;
  readonly beltDistance: Kilometres;
  readonly horizonDays: number;
  readonly proofIdleSle: Kilopascals;
  readonly proofLowestSle: Kilopascals;
  readonly readingIntervalDays: number;
  readonly readingGraceDays: number;
  /** Probability of meeting the wear limit within a year, smoothed, that raises each mark. */
  readonly driftingScore: number;
  readonly bookInScore: number;
}

/**
 * Defaults of a new fleet; the fleet may change every one. Basis: common practice, no published
 * source, except that 4 psi lowest lies near the 8 inHg warning threshold of California Vehicle Code
 * 26521 and Missouri 11 CSR 50-2.170, which bind vacuum-braked vehicles rather than most light pickups.
 */
export const defaultLimits: Limits = {
  version: 0,
  idleCautionSle: toKilopascals(10, 'psi'),
  idleStopAsRead: toKilopascals(7, 'psi'),
  lowestCautionSle: toKilopascals(8, 'psi'),
  lowestStopAsRead: toKilopascals(4, 'psi'),
  belowBaselineSle: toKilopascals(0.75, 'psi'),
  recoveryCaution: 15,
  recoveryCautionTimesBaseline: 1.5,
  recoveryStop: 30,
  hold60Caution: toKilopascals(0.5, 'psi'),
  hold60Stop: toKilopascals(1.5, 'psi'),
  hold300Caution: toKilopascals(0.8, 'psi'),
  hold300Stop: toKilopascals(6, 'psi'),
  beltDistance: toKilometres(50_000, 'mi'),
  horizonDays: 91,
  proofIdleSle: toKilopascals(12, 'psi'),
  proofLowestSle: toKilopascals(10, 'psi'),
  readingIntervalDays: 91,
  readingGraceDays: 14,
  driftingScore: 0.08,
  bookInScore: 0.18,
};
