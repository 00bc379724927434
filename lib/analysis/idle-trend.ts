import type { SoundReading } from '@/lib/analysis/normalise';
import type { IdleTrend, RecoveryTrend } from '@/lib/analysis/unit-assessment';
import { type Measured, seriesOf, type Visit } from '@/lib/analysis/visits';
import type { Kilopascals, Seconds } from '@/lib/measure';
import { theilSen } from '@/lib/statistics';

const confidence = 0.9;
/** A slope through two points is their difference and has no limits. */
const fewestForSlope = 3;
const daysPerYear = 365.25;

interface Slope {
  readonly slope: number | null;
  readonly lower: number | null;
  readonly upper: number | null;
}

/**
 * Latest idle vacuum at both judgements, its level, and the Theil-Sen slope over the visits of the
 * segment with 90% limits; kPa, kPa a year, SLE unless named.
 * Source: Sen 1968, by `theilSen`. Fewer than three visits, or all on one day: no slope.
 */
export function idleTrendOf(
  visits: readonly Visit[],
  latest: SoundReading | null,
  levelSle: Kilopascals | null,
): IdleTrend {
  const { slope, lower, upper } = slopeOf(seriesOf(visits, ({ idleSle }) => idleSle));
  return {
    latestSle: latest?.idleSle ?? null,
    latestAsRead: latest?.idle ?? null,
    levelSle,
    slopePerYear: slope,
    slopeLower: lower,
    slopeUpper: upper,
  };
}

/** Latest recovery, the unit's own start, and the Theil-Sen slope in seconds a year. */
export function recoveryTrendOf(visits: readonly Visit[], baseline: Seconds | null): RecoveryTrend {
  const series = seriesOf(visits, ({ recovery }) => recovery);
  return {
    latest: series.at(-1)?.value ?? null,
    baseline,
    slopePerYear: slopeOf(series).slope,
  };
}

function slopeOf(series: readonly Measured<number>[]): Slope {
  if (series.length < fewestForSlope) return { slope: null, lower: null, upper: null };
  const first = series[0]!.day;
  return theilSen(
    series.map(({ day }) => (day - first) / daysPerYear),
    series.map(({ value }) => value),
    confidence,
  );
}
