import { baselineVisits } from '@/lib/analysis/baseline';
import type { Limits } from '@/lib/analysis/limits';
import type { Finding } from '@/lib/analysis/rules';
import type { SegmentWear } from '@/lib/analysis/segment-wear';
import { seriesOf, type Visit } from '@/lib/analysis/visits';
import type { DayNumber, Kilopascals } from '@/lib/measure';

/** The wear score at the newest visit or the one before: two visits running without cause end it. */
export function scoreFindings(
  { score, scoreBefore, outcome }: SegmentWear,
  limits: Limits,
): readonly Finding[] {
  const highest = Math.max(score ?? 0, scoreBefore ?? 0);
  const isBooked = highest >= limits.bookInScore;
  if (!isBooked && highest < limits.driftingScore) return [];
  return [
    {
      rule: isBooked ? 'wear score' : 'wear score rising',
      value: highest,
      limit: isBooked ? limits.bookInScore : limits.driftingScore,
      on: outcome.steps.at(score === highest ? -1 : -2)?.day,
    },
  ];
}

/** Two visits running at least 0.75 psi below the unit's own start, now or at the visit before. kPa SLE. */
export function belowBaselineFindings(
  visits: readonly Visit[],
  baselineSle: Kilopascals | null,
  limits: Limits,
  since: DayNumber,
): readonly Finding[] {
  if (baselineSle === null) return [];
  const series = seriesOf(visits, ({ idleSle }) => idleSle);
  const last = series.length - 1;
  for (let k = last; k >= Math.max(baselineVisits + 1, last - 1); k--) {
    const pair = [series[k - 1]!, series[k]!];
    if (pair[0]!.day < since) continue;
    const drop = baselineSle - Math.max(pair[0]!.value, pair[1]!.value);
    if (drop <= limits.belowBaselineSle) continue;
    return [
      {
        rule: 'two below baseline',
        value: drop,
        limit: limits.belowBaselineSle,
        on: pair[1]!.day,
        readingIds: pair.map(({ reading }) => reading.id),
      },
    ];
  }
  return [];
}

/** The newest reading surprises: read again the same day. */
export function unconfirmedFindings(
  { unconfirmedOn, outcome }: SegmentWear,
  visits: readonly Visit[],
): readonly Finding[] {
  const readings = visits.find(({ day }) => day === unconfirmedOn)?.readings;
  const reading = readings?.findLast(({ idleSle }) => idleSle !== null);
  if (!reading || reading.idleSle === null || outcome.levelNow === null) return [];
  return [
    {
      rule: 'unconfirmed reading',
      value: reading.idleSle,
      limit: outcome.levelNow,
      on: reading.readOn,
      readingIds: [reading.id],
    },
  ];
}
