import { readFileSync } from 'node:fs';
import { parse } from 'csv-parse/sync';
import type { WearPoint } from '@/lib/analysis/wear';
import { ambientPressureAt, seaLevelEquivalent } from '@/lib/atmosphere';
import { dayFromIso } from '@/lib/calendar';
import { type DayNumber, type PressureUnit, toKilopascals } from '@/lib/measure';

/** One segment as read, and what is true of it. */
export interface KnownSegment {
  readonly unit: string;
  readonly points: readonly WearPoint[];
  readonly isInError: readonly boolean[];
  readonly isStable: boolean;
  readonly isSudden: boolean;
  readonly crossing: DayNumber | null;
  readonly crossedInService: boolean;
}

type Row = Readonly<Record<string, string>>;
const rowsOf = (path: string): Row[] =>
  parse(readFileSync(path, 'utf8'), { columns: true, skip_empty_lines: true });

const day = (text: string | undefined): DayNumber | null => (text ? dayFromIso(text) : null);
const newSourceOfVacuum = /pump|line|valve|booster/;

export interface FleetFiles {
  readonly units: string;
  readonly fitments: string;
  readonly readings: string;
  /** Folder with segments.csv and readings.csv of the truth. */
  readonly truth: string;
}

/** Readings of a fleet with known truth, as SLE points by segment. */
export function readBacktestFleet(files: FleetFiles): KnownSegment[] {
  const elevations = new Map(
    rowsOf(files.units).map((row) => [row.unit!, Number(row.elevation_m)] as const),
  );
  const starts = new Map<string, DayNumber[]>();
  for (const row of rowsOf(files.fitments)) {
    const fittedOn = day(row.fitted_on);
    if (fittedOn === null || !newSourceOfVacuum.test(row.part!)) continue;
    starts.set(row.unit!, [...(starts.get(row.unit!) ?? []), fittedOn]);
  }
  const errors = new Map(
    rowsOf(`${files.truth}/readings.csv`).map(
      (row) => [row.reading!, row.reading_error !== 'none'] as const,
    ),
  );
  const found = new Map<string, { point: WearPoint; isInError: boolean }[]>();
  for (const row of rowsOf(files.readings)) {
    const readOn = day(row.read_on);
    if (readOn === null || !row.idle_vacuum) continue;
    const number = (starts.get(row.unit!) ?? []).filter((start) => start <= readOn).length;
    const key = `${row.unit}/${number + 1}`;
    const ambient = row.barometer_kpa
      ? Number(row.barometer_kpa)
      : ambientPressureAt(elevations.get(row.unit!) ?? 0);
    const sle = (value: string) =>
      seaLevelEquivalent(toKilopascals(Number(value), row.pressure_unit as PressureUnit), ambient);
    const point = {
      day: readOn,
      idleSle: sle(row.idle_vacuum),
      lowestSle: row.lowest ? sle(row.lowest) : null,
    };
    found.set(key, [
      ...(found.get(key) ?? []),
      { point, isInError: errors.get(row.reading!) ?? false },
    ]);
  }
  return rowsOf(`${files.truth}/segments.csv`).flatMap((row) => {
    const readings = found.get(`${row.unit}/${row.segment}`) ?? [];
    if (readings.length === 0) return [];
    return {
      unit: row.unit!,
      points: readings.map(({ point }) => point),
      isInError: readings.map(({ isInError }) => isInError),
      isStable: row.mode === 'stable',
      isSudden: row.mode === 'sudden',
      crossing: day(row.true_crossing_10psi),
      crossedInService: row.crossed_while_in_service === 'yes',
    };
  });
}
