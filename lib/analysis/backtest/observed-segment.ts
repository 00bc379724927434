import { fewestVisits, type KnownSegment } from '@/lib/analysis/backtest/score-forecasts';
import type { WearPoint } from '@/lib/analysis/wear';
import type { DayNumber, Kilopascals } from '@/lib/measure';

/** An alarm says that a limit is met within a year: it takes that long to call it false. */
const yearOfProof = 365;

/**
 * What a fleet's own readings show of a segment, for scoring forecasts where nobody knows the truth.
 *
 * Crossing: the first visit below the limit that the next visit, or a repair, bears out; its day by a
 * straight line from the visit before. Stable: no visit below the limit and no repair, as far as a
 * whole year of later readings bears it out; visits of the last year are left out. A segment repaired
 * before any visit was below the limit tells neither: the repair may have been the forecast's doing.
 *
 * Source: own choice. Thin data: fewer than four visits, a first visit already below the limit, or
 * less than a year on record without a crossing give null.
 *
 * @example visits at 90, 88, 86, 66, 65 kPa on days 0, 91 … 364, limit 68.9 kPa: crossing on day 260
 */
export function observedSegment(
  unit: string,
  points: readonly WearPoint[],
  isRepaired: boolean,
  limit: Kilopascals,
): KnownSegment | null {
  if (points.length < fewestVisits) return null;
  const isBelow = ({ idleSle }: WearPoint) => idleSle < limit;
  const at = points.findIndex((point, k) => {
    const next = points[k + 1];
    return isBelow(point) && (next ? isBelow(next) : isRepaired);
  });
  if (at === 0) return null;
  const known = (crossing: DayNumber | null, shown: readonly WearPoint[]): KnownSegment => ({
    unit,
    points: shown,
    isInError: shown.map(() => false),
    isStable: crossing === null,
    isSudden: false,
    crossing,
    crossedInService: crossing !== null,
  });
  if (at > 0) {
    const [before, after] = [points[at - 1]!, points[at]!];
    const share = (before.idleSle - limit) / (before.idleSle - after.idleSle);
    const crossing = isBelow(before)
      ? before.day
      : Math.round(before.day + share * (after.day - before.day));
    return known(crossing, points.slice(0, at + 1));
  }
  const last = points.at(-1)!;
  const shown = points.filter(({ day }) => day <= last.day - yearOfProof);
  return isRepaired || shown.length === 0 ? null : known(null, shown);
}
