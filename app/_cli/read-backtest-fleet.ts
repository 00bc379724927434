import { readFileSync } from 'node:fs';
import { parse } from 'csv-parse/sync';
import { wearSegmentsOf } from '@/lib/analysis/assess-fleet';
import type { KnownSegment } from '@/lib/analysis/backtest/score-forecasts';
import { dayFromIso } from '@/lib/calendar';
import { readFleetFiles } from './read-fleet-files';

export interface BacktestFiles {
  readonly units: string;
  readonly fitments: string;
  readonly readings: string;
  /** Folder with the truth: segments.csv and readings.csv. */
  readonly truth: string;
}

type Row = Readonly<Record<string, string>>;
const rowsOf = (path: string): Row[] =>
  parse(readFileSync(path, 'utf8'), { columns: true, skip_empty_lines: true });

/** A fleet with known truth, read and screened as the product does. */
export async function readBacktestFleet(files: BacktestFiles): Promise<KnownSegment[]> {
  const { units } = await readFleetFiles(files, () => undefined);
  const wrong = new Set(
    rowsOf(`${files.truth}/readings.csv`)
      .filter((row) => row.reading_error !== 'none')
      .map((row) => row.reading),
  );
  const segments = new Map(
    units.map((unit) => [
      unit.unit.unit,
      {
        points: wearSegmentsOf({ ...unit, asOf: Number.POSITIVE_INFINITY }),
        daysInError: new Set(
          unit.readings.filter(({ id }) => wrong.has(id)).map(({ readOn }) => readOn),
        ),
      },
    ]),
  );
  return rowsOf(`${files.truth}/segments.csv`).flatMap((row) => {
    const read = segments.get(row.unit!);
    const points = read?.points[Number(row.segment) - 1] ?? [];
    const ends = row.replaced ? dayFromIso(row.replaced) : null;
    const own = points.filter(({ day }) => ends === null || day < ends);
    if (!read || own.length === 0) return [];
    return {
      unit: row.unit!,
      points: own,
      isInError: own.map(({ day }) => read.daysInError.has(day)),
      isStable: row.mode === 'stable',
      isSudden: row.mode === 'sudden',
      crossing: row.true_crossing_10psi ? dayFromIso(row.true_crossing_10psi) : null,
      crossedInService: row.crossed_while_in_service === 'yes',
    };
  });
}
