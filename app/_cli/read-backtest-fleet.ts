import { readFileSync } from 'node:fs';
import { parse } from 'csv-parse/sync';
import { type FleetUnit, wearSegmentsOf } from '@/lib/analysis/assess-fleet';
import { assessUnit } from '@/lib/analysis/assess-unit';
import type { KnownCause } from '@/lib/analysis/backtest/score-causes';
import { fewestVisits, type KnownSegment } from '@/lib/analysis/backtest/score-forecasts';
import type { SignedCause } from '@/lib/analysis/diagnose-likelihood';
import { defaultFleetPrior } from '@/lib/analysis/fleet-prior';
import { defaultLimits } from '@/lib/analysis/limits';
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

/** A fleet as the product reads it, beside the truth of its segments and readings. */
export interface KnownFleet {
  readonly units: readonly FleetUnit[];
  readonly segments: readonly Row[];
  readonly readings: readonly Row[];
}

export async function readKnownFleet(files: BacktestFiles): Promise<KnownFleet> {
  const { units } = await readFleetFiles(files, () => undefined);
  return {
    units,
    segments: rowsOf(`${files.truth}/segments.csv`),
    readings: rowsOf(`${files.truth}/readings.csv`),
  };
}

/** The segments of the fleet, screened as the product does. */
export function knownSegments({ units, ...truth }: KnownFleet): KnownSegment[] {
  const wrong = new Set(
    truth.readings.filter((row) => row.reading_error !== 'none').map((row) => row.reading),
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
  return truth.segments.flatMap((row) => {
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

const causeNamed: Readonly<Record<string, SignedCause>> = {
  none: 'none shown',
  pump: 'pump',
  leak: 'leak',
  checkvalve: 'check valve',
  line: 'restricted line',
  belt: 'slipping belt',
};

/**
 * What the analysis says, with a new fleet's limits and noise, at the last visit before each repair and
 * at the last of each stable segment, of four readings at least.
 */
export function knownCauses({ units, segments }: KnownFleet): KnownCause[] {
  const byName = new Map(units.map((unit) => [unit.unit.unit, unit]));
  return segments.flatMap((row) => {
    const unit = byName.get(row.unit!);
    const cause = causeNamed[row.cause!];
    if (!cause) throw new Error(`segments.csv names no known cause: ${row.cause}`);
    if (!unit || (cause !== 'none shown' && !row.replaced)) return [];
    const from = dayFromIso(row.start!)!;
    const to = row.replaced ? dayFromIso(row.replaced)! : Number.POSITIVE_INFINITY;
    const days = unit.readings.map(({ readOn }) => readOn).filter((day) => day >= from && day < to);
    if (days.length < fewestVisits) return [];
    const { diagnosis } = assessUnit({
      ...unit,
      asOf: Math.max(...days),
      limits: defaultLimits,
      prior: defaultFleetPrior,
      isForecastCharted: false,
    });
    return { cause, said: diagnosis.said };
  });
}
