import type { Limits } from '@/lib/analysis/limits';
import {
  type DistanceUnit,
  fromKilometres,
  fromKilopascals,
  type PressureUnit,
} from '@/lib/measure';

export type LimitValues = Omit<Limits, 'version'>;
export type LimitName = keyof LimitValues;
export type Quantity = 'pressure' | 'distance' | 's' | 'days' | 'probability' | 'times';

interface LimitRow {
  readonly name: LimitName;
  readonly label: string;
  readonly quantity: Quantity;
  /** Where the default comes from. */
  readonly basis: string;
}

const own = 'own choice';
const practice = 'common practice, no published source';

/** Every limit, in the order of the reading; the one list behind form, table and preview. */
export const limitRows: readonly LimitRow[] = [
  {
    name: 'idleCautionSle',
    label: 'Idle, caution below (sea level)',
    quantity: 'pressure',
    basis: practice,
  },
  { name: 'idleStopAsRead', label: 'Idle, stop below (as read)', quantity: 'pressure', basis: own },
  {
    name: 'lowestCautionSle',
    label: 'Lowest, caution below (sea level)',
    quantity: 'pressure',
    basis: own,
  },
  {
    name: 'lowestStopAsRead',
    label: 'Lowest, stop below (as read)',
    quantity: 'pressure',
    basis: `${practice}; near the 8 inHg of California Vehicle Code 26521, which binds vacuum-braked vehicles`,
  },
  {
    name: 'belowBaselineSle',
    label: 'Two running below own baseline by (sea level)',
    quantity: 'pressure',
    basis: own,
  },
  { name: 'recoveryCaution', label: 'Recovery, caution over', quantity: 's', basis: own },
  {
    name: 'recoveryCautionTimesBaseline',
    label: 'Recovery, caution over so many times the baseline',
    quantity: 'times',
    basis: own,
  },
  { name: 'recoveryStop', label: 'Recovery, stop over', quantity: 's', basis: own },
  {
    name: 'hold60Caution',
    label: 'Hold loss in 60 s, caution over',
    quantity: 'pressure',
    basis: own,
  },
  { name: 'hold60Stop', label: 'Hold loss in 60 s, stop over', quantity: 'pressure', basis: own },
  {
    name: 'hold300Caution',
    label: 'Hold loss in 5 min, caution over',
    quantity: 'pressure',
    basis: own,
  },
  { name: 'hold300Stop', label: 'Hold loss in 5 min, stop over', quantity: 'pressure', basis: own },
  {
    name: 'beltDistance',
    label: 'Pump belt, distance on it',
    quantity: 'distance',
    basis: `${practice}; trade press disagrees`,
  },
  {
    name: 'horizonDays',
    label: 'Horizon of belts, bulletins and plan',
    quantity: 'days',
    basis: own,
  },
  {
    name: 'proofIdleSle',
    label: 'Proof, idle at least (sea level)',
    quantity: 'pressure',
    basis: practice,
  },
  {
    name: 'proofLowestSle',
    label: 'Proof, lowest at least (sea level)',
    quantity: 'pressure',
    basis: practice,
  },
  { name: 'readingIntervalDays', label: 'Reading interval', quantity: 'days', basis: own },
  { name: 'readingGraceDays', label: 'Grace after the interval', quantity: 'days', basis: own },
  {
    name: 'driftingScore',
    label: 'Drifting, chance within a year from',
    quantity: 'probability',
    basis: own,
  },
  {
    name: 'bookInScore',
    label: 'Book in, chance within a year from',
    quantity: 'probability',
    basis: own,
  },
];

export interface LimitUnits {
  readonly pressure: PressureUnit;
  readonly distance: DistanceUnit;
}

export const limitUnit = (quantity: Quantity, units: LimitUnits): string => {
  if (quantity === 'pressure') return units.pressure;
  if (quantity === 'distance') return units.distance;
  if (quantity === 'probability') return 'of 1';
  return quantity;
};

/** The figure that a person sees and keys, in the person's unit. */
export function limitFigure(value: number, quantity: Quantity, units: LimitUnits): string {
  if (quantity === 'pressure') return trimmed(fromKilopascals(value, units.pressure), 2);
  if (quantity === 'distance') return fromKilometres(value, units.distance).toFixed(0);
  return trimmed(value, 2);
}

const trimmed = (value: number, decimals: number): string =>
  String(Number(value.toFixed(decimals)));
