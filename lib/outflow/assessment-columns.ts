import type { FirstPassage, WhyNoDate } from '@/lib/analysis/assessment';
import type { UnitAssessment } from '@/lib/analysis/unit-assessment';
import { isoFromDay } from '@/lib/calendar';
import {
  type DayNumber,
  fromKilometres,
  fromKilopascals,
  type Kilopascals,
  type PressureUnit,
} from '@/lib/measure';
import type { CsvCell } from '@/lib/outflow/csv';

const iso = (day: DayNumber | null): string => (day === null ? '' : isoFromDay(day));

/** Columns of the fleet as CSV, pressures in the reader's unit. */
export const assessmentHeader = (unit: PressureUnit): readonly string[] => [
  'unit',
  'mark',
  'as_of',
  'readings',
  'last_read',
  `idle_as_read_${unit}`,
  `idle_sle_${unit}`,
  `level_sle_${unit}`,
  `slope_${unit}_per_year`,
  `slope_lower`,
  `slope_upper`,
  'wear_score',
  'wear_earliest80',
  'wear_median',
  'wear_latest80',
  'wear_why_none',
  'stop_earliest80',
  'stop_median',
  'stop_latest80',
  'belt_due',
  'belt_earliest80',
  'belt_latest80',
  'belt_miles_left',
  'cause',
  'cause_confidence',
  'next_check',
  'next_reading_due',
  'earliest_edge',
  'reason',
  'other_reasons',
];

export function assessmentCells(assessed: UnitAssessment, unit: PressureUnit): readonly CsvCell[] {
  const { idle, wear, stop, belt, diagnosis, reasons } = assessed;
  const pressure = (value: Kilopascals | null): CsvCell =>
    value === null ? null : Number(fromKilopascals(value, unit).toFixed(3));
  return [
    assessed.unit,
    assessed.mark ?? assessed.standing,
    isoFromDay(assessed.asOf),
    assessed.readingCount,
    iso(assessed.latest?.readOn ?? null),
    pressure(idle.latestAsRead),
    pressure(idle.latestSle),
    pressure(idle.levelSle),
    pressure(idle.slopePerYear),
    pressure(idle.slopeLower),
    pressure(idle.slopeUpper),
    wear.score === null ? null : Number(wear.score.toFixed(4)),
    iso(wear.earliest80),
    iso(wear.median),
    iso(wear.latest80),
    wear.whyNone,
    iso(stop.earliest80),
    iso(stop.median),
    iso(stop.latest80),
    iso(belt.due),
    iso(belt.earliest80),
    iso(belt.latest80),
    belt.distanceLeft === null ? null : Math.round(fromKilometres(belt.distanceLeft, 'mi')),
    diagnosis.said,
    diagnosis.confidence,
    diagnosis.nextCheck,
    iso(assessed.nextReadingDue),
    iso(assessed.earliestEdge),
    reasons[0]?.text ?? '',
    reasons
      .slice(1)
      .map(({ text }) => text)
      .join(' '),
  ];
}

const whyNone: Record<WhyNoDate, string> = {
  'too few': 'too few readings',
  'beyond 10 years': 'beyond 10 years',
  'no reading since the repair': 'no reading since the repair',
  'no reading': 'never read',
  'no limit': 'no limit',
};

/** A first passage as an interval of days, for reading by eye. */
export function passageWords({ earliest80, latest80, whyNone: why }: FirstPassage): string {
  if (earliest80 === null) return whyNone[why ?? 'beyond 10 years'];
  return latest80 === null
    ? `not before ${isoFromDay(earliest80)}`
    : `${isoFromDay(earliest80)} to ${isoFromDay(latest80)}`;
}

/** Cells of one unit for a table on a terminal. */
export function assessmentLine(assessed: UnitAssessment, unit: PressureUnit): readonly string[] {
  const { idle, wear, belt, reasons } = assessed;
  const figure = (value: Kilopascals | null, decimals: number) =>
    value === null ? '–' : fromKilopascals(value, unit).toFixed(decimals);
  const slope =
    idle.slopePerYear === null
      ? '–'
      : `${figure(idle.slopePerYear, 2)} (${figure(idle.slopeLower, 2)} to ${figure(idle.slopeUpper, 2)})`;
  return [
    assessed.unit,
    assessed.mark ?? assessed.standing,
    figure(idle.latestAsRead, 1),
    figure(idle.latestSle, 1),
    slope,
    wear.score === null ? '–' : wear.score.toFixed(2),
    passageWords(wear),
    belt.due === null ? '–' : isoFromDay(belt.due),
    reasons[0]?.text ?? '',
  ];
}

export const assessmentLineHeader = (unit: PressureUnit): readonly string[] => [
  'Unit',
  'Mark',
  `Idle ${unit}`,
  'At sea level',
  `Slope ${unit} a year (90%)`,
  'Wear score',
  'Wear limit, 8 in 10',
  'Belt due',
  'Why',
];
