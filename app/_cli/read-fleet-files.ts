import type { FleetUnit } from '@/lib/analysis/assess-fleet';
import type { Question } from '@/lib/analysis/plausibility';
import {
  type FitmentRow,
  fitmentColumns,
  fitmentOfRow,
  fitmentsOfRows,
} from '@/lib/intake/fitment-row';
import { type ReadingRow, readingColumns, readingOfRow } from '@/lib/intake/reading-row';
import { type UnitRow, unitColumns, unitOfRow } from '@/lib/intake/unit-row';
import type { Problem } from '@/lib/result';
import { readCsvFile } from './read-csv-file';

export interface RefusedRow extends Problem {
  readonly file: string;
}
export interface OddValue extends Question {
  readonly file: string;
  readonly line: number;
}

export interface FleetFiles {
  readonly units: readonly FleetUnit[];
  readonly rows: number;
  readonly refused: readonly RefusedRow[];
  /** Stand as written; a person should look. */
  readonly odd: readonly OddValue[];
}

interface Collected {
  readonly facts: UnitRow;
  readonly readings: ReadingRow[];
  readonly fitments: FitmentRow[];
}

/** Reads the files of a fleet. A refused row is named; what is sound in the others is kept. */
export async function readFleetFiles(
  files: {
    readonly units: string;
    readonly readings: string;
    readonly fitments: string | null;
  },
  onRow: (rows: number) => void,
): Promise<FleetFiles> {
  const fleet = new Map<string, Collected>();
  const refused: RefusedRow[] = [];
  const odd: OddValue[] = [];
  const readingLines = new Map<string, number>();
  let rows = 0;
  const refuseIn = (file: string) => (problem: Problem) => refused.push({ ...problem, file });
  const count = () => onRow(++rows);

  const refuseUnit = refuseIn(files.units);
  await readCsvFile(
    files.units,
    unitColumns,
    (row, line) => {
      count();
      const parsed = unitOfRow(row, line);
      if (!parsed.ok) return parsed.error.forEach(refuseUnit);
      const { unit } = parsed.value;
      const before = fleet.get(unit);
      if (before) return refuseUnit(twice('unit', unit, line, before.facts.line));
      fleet.set(unit, { facts: parsed.value, readings: [], fitments: [] });
    },
    refuseUnit,
  );

  const refuseReading = refuseIn(files.readings);
  await readCsvFile(
    files.readings,
    readingColumns,
    (row, line) => {
      count();
      const parsed = readingOfRow(row, line, (unit) => fleet.get(unit)?.facts.elevation);
      if (!parsed.ok) return parsed.error.forEach(refuseReading);
      const { id } = parsed.value.reading;
      const before = readingLines.get(id);
      if (before !== undefined) return refuseReading(twice('reading', id, line, before));
      readingLines.set(id, line);
      fleet.get(parsed.value.unit)?.readings.push(parsed.value);
      for (const question of parsed.value.questions) {
        odd.push({ ...question, file: files.readings, line });
      }
    },
    refuseReading,
  );

  if (files.fitments !== null) {
    const refuseFitment = refuseIn(files.fitments);
    await readCsvFile(
      files.fitments,
      fitmentColumns,
      (row, line) => {
        count();
        const parsed = fitmentOfRow(row, line, (unit) => fleet.has(unit));
        if (!parsed.ok) return parsed.error.forEach(refuseFitment);
        fleet.get(parsed.value.unit)?.fitments.push(parsed.value);
      },
      refuseFitment,
    );
  }
  const units = [...fleet.values()].map(unitOf);
  return { units, rows, refused, odd };
}

const unitOf = ({ facts, readings, fitments }: Collected): FleetUnit => ({
  unit: facts,
  fitments: fitmentsOfRows(fitments),
  readings: readings.toSorted(byTimeOfDay).map(({ reading }, entry) => ({ ...reading, entry })),
  isForecastCharted: false,
});

const byTimeOfDay = (a: ReadingRow, b: ReadingRow): number =>
  a.reading.readOn - b.reading.readOn ||
  (a.readAt !== null && b.readAt !== null && a.readAt !== b.readAt
    ? a.readAt < b.readAt
      ? -1
      : 1
    : a.line - b.line);

const twice = (field: string, value: string, line: number, before: number): Problem => ({
  field,
  line,
  value,
  message: `The same ${field} stands on line ${before}.`,
  mend: 'Keep one of the two rows, or give each its own name.',
});
