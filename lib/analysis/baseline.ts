import type { Baseline } from '@/lib/analysis/unit-assessment';
import { type Measured, seriesOf, type Visit } from '@/lib/analysis/visits';

/** Visits that a baseline rests on. */
export const baselineVisits = 3;

/**
 * A unit's own start: medians of the first three visits of its segment, vacuum in kPa SLE, recovery
 * in seconds, each over the visits that measured it.
 * Source: own method; of three values the median survives one in error.
 * Fewer than three visits: null, measure by measure.
 *
 * @example baselineOf(visits with idle 89, 90, 88, 70).idleSle is 89
 */
export function baselineOf(visits: readonly Visit[]): Baseline {
  return {
    idleSle: startOf(seriesOf(visits, ({ idleSle }) => idleSle)),
    lowestSle: startOf(seriesOf(visits, ({ lowestSle }) => lowestSle)),
    recovery: startOf(seriesOf(visits, ({ recovery }) => recovery)),
  };
}

function startOf(series: readonly Measured<number>[]): number | null {
  if (series.length < baselineVisits) return null;
  const first = series.slice(0, baselineVisits).map(({ value }) => value);
  return first.sort((a, b) => a - b)[1]!;
}
