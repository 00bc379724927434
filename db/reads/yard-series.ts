import { and, inArray, sql } from 'drizzle-orm';
import type { ForecastPoint } from '@/lib/analysis/assessment';
import type { UnitAssessment } from '@/lib/analysis/unit-assessment';
import type { DayNumber, Kilopascals } from '@/lib/measure';
import type { Db, Tx } from '../client';
import { verdict } from '../schema';
import { type IdlePoint, idleSeries } from './idle-series';

/** What a row's small chart draws, sea-level equivalent. */
export interface YardSeries {
  readonly points: readonly Omit<IdlePoint, 'readingId'>[];
  readonly band: readonly Pick<ForecastPoint, 'day' | 'low80' | 'high80'>[];
}

/** More decimals are far below a pixel, and would be half of what a page of rows sends. */
const drawn = (vacuum: Kilopascals): Kilopascals => Math.round(vacuum * 100) / 100;

/** Idle vacuum of each unit between two days, and its 80% band ahead. The caller has asked who may see them. */
export async function yardSeries(
  db: Db | Tx,
  unitIds: readonly string[],
  [from, to]: readonly [DayNumber, DayNumber],
): Promise<Map<string, YardSeries>> {
  if (unitIds.length === 0) return new Map();
  const series = await idleSeries(db, unitIds, from);
  const verdicts = await db
    .select({
      unitId: verdict.unitId,
      setAside: sql<UnitAssessment['setAside']>`${verdict.assessment} -> 'setAside'`,
      forecast: sql<UnitAssessment['forecast']>`${verdict.assessment} -> 'forecast'`,
    })
    .from(verdict)
    .where(and(inArray(verdict.unitId, [...unitIds]), sql`${verdict.isCurrent}`));
  const judged = new Map(verdicts.map((row) => [row.unitId, row]));
  return new Map(
    unitIds.map((id) => {
      const { setAside = [], forecast = [] } = judged.get(id) ?? {};
      const untrue = new Set(setAside.map(({ readingId }) => readingId));
      return [
        id,
        {
          points: (series.get(id) ?? [])
            .filter(({ readingId }) => !untrue.has(readingId))
            .map(({ day, value }) => ({ day, value: drawn(value) })),
          band: forecast
            .filter(({ day }) => day <= to)
            .map(({ day, low80, high80 }) => ({ day, low80: drawn(low80), high80: drawn(high80) })),
        },
      ];
    }),
  );
}
