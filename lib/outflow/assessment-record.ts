import type { FirstPassage, Reason } from '@/lib/analysis/assessment';
import type { UnitAssessment } from '@/lib/analysis/unit-assessment';
import { isoFromDay } from '@/lib/calendar';
import { type DayNumber, fromKilometres, fromKilopascals, type Kilopascals } from '@/lib/measure';

const iso = (day: DayNumber | null): string | null => (day === null ? null : isoFromDay(day));
const psi = (value: Kilopascals | null): number | null =>
  value === null ? null : rounded(fromKilopascals(value, 'psi'), 4);
const rounded = (value: number, decimals: number): number => Number(value.toFixed(decimals));
const share = (value: number | null): number | null => (value === null ? null : rounded(value, 6));

/** Dates of a first passage; an early edge stands even where the median lies beyond the horizon. */
const passageRecord = (passage: FirstPassage) => ({
  probabilityWithin1Year: share(passage.probabilityWithin1Year),
  earliest80: iso(passage.earliest80),
  median: iso(passage.median),
  latest80: iso(passage.latest80),
  earliest90: iso(passage.earliest90),
  latest90: iso(passage.latest90),
  whyNone: passage.whyNone,
});

const reasonRecord = ({
  rule,
  text,
  mark,
  value,
  limit,
  measure,
  asRead,
  about,
  on,
  readingIds,
}: Reason) => ({
  rule,
  text,
  mark,
  ...(value !== undefined && { value: rounded(value, 4) }),
  ...(limit !== undefined && { limit: rounded(limit, 4) }),
  ...(measure !== undefined && { measure }),
  ...(asRead !== undefined && { asRead }),
  ...(about !== undefined && { about }),
  ...(on !== undefined && { on: isoFromDay(on) }),
  readingIds,
});

/** One unit's verdict for other programs: ISO dates, psi by name, null for what there is not. */
export function assessmentRecord(assessed: UnitAssessment) {
  const { idle, wear, stop, belt, diagnosis } = assessed;
  return {
    unit: assessed.unit,
    mark: assessed.mark,
    asOf: isoFromDay(assessed.asOf),
    readings: assessed.readingCount,
    segmentReadings: assessed.segmentReadingCount,
    segmentStart: iso(assessed.segmentStart),
    lastRead: iso(assessed.latest?.readOn ?? null),
    idle: {
      latestSlePsi: psi(idle.latestSle),
      latestAsReadPsi: psi(idle.latestAsRead),
      levelSlePsi: psi(idle.levelSle),
      slopePsiPerYear: psi(idle.slopePerYear),
      slopeLower: psi(idle.slopeLower),
      slopeUpper: psi(idle.slopeUpper),
    },
    wear: { ...passageRecord(wear), score: share(wear.score) },
    stop: passageRecord(stop),
    belt: {
      due: iso(belt.due),
      earliest80: iso(belt.earliest80),
      latest80: iso(belt.latest80),
      milesLeft:
        belt.distanceLeft === null ? null : rounded(fromKilometres(belt.distanceLeft, 'mi'), 0),
      whyNone: belt.whyNone,
    },
    cause: {
      said: diagnosis.said,
      alternatives: diagnosis.alternatives,
      confidence: diagnosis.confidence,
      nextCheck: diagnosis.nextCheck,
    },
    reasons: assessed.reasons.map(reasonRecord),
    nextReadingDue: iso(assessed.nextReadingDue),
    earliestEdge: iso(assessed.earliestEdge),
    earliestEdgeCause: assessed.earliestEdgeCause,
    mayGoOut: assessed.mayGoOut,
    whatChangesItBack: assessed.whatChangesItBack,
    limitsVersion: assessed.limitsVersion,
    methodVersion: assessed.methodVersion,
  };
}
