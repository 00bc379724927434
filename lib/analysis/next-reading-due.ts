import type { Mark } from '@/lib/analysis/assessment';
import type { Evidence } from '@/lib/analysis/evidence';
import type { Limits } from '@/lib/analysis/limits';
import { owedReadings } from '@/lib/analysis/owed-readings';
import type { SegmentWear } from '@/lib/analysis/segment-wear';
import { newestSound } from '@/lib/analysis/standing-findings';
import type { DayNumber } from '@/lib/measure';

/**
 * Day by which to read a unit next: at once where there is no sound reading, the newest one surprises
 * or the line was not seen; as owed while proving; after half the interval while drifting; else after
 * the interval. Out of service it is the proof that counts, and laid up nothing is due: null.
 */
export function nextReadingDue(
  mark: Mark | null,
  evidence: Evidence,
  { unconfirmedOn }: SegmentWear,
  limits: Limits,
  asOf: DayNumber,
): DayNumber | null {
  if (mark === null || mark === 'Out of service') return null;
  const newest = newestSound(evidence.sound);
  if (!newest) return asOf;
  if (unconfirmedOn === newest.readOn || newest.line === 'not seen') return newest.readOn;
  const interval = limits.readingIntervalDays;
  const regular = newest.readOn + (mark === 'Drifting' ? Math.floor(interval / 2) : interval);
  const owed = owedReadings(evidence, limits);
  return owed ? Math.min(regular, owed.nextDueOn) : regular;
}
