import type { FirstPassage } from '@/lib/analysis/assessment';
import { baselineOf } from '@/lib/analysis/baseline';
import { forecastBelt } from '@/lib/analysis/belt';
import { diagnoseVisits } from '@/lib/analysis/diagnose-visits';
import { earliestEdge } from '@/lib/analysis/earliest-edge';
import { type Evidence, evidenceOf } from '@/lib/analysis/evidence';
import { idleTrendOf, recoveryTrendOf } from '@/lib/analysis/idle-trend';
import { nextReadingDue } from '@/lib/analysis/next-reading-due';
import type { SoundReading } from '@/lib/analysis/normalise';
import { segmentWear } from '@/lib/analysis/segment-wear';
import { newestSound, standingFindings } from '@/lib/analysis/standing-findings';
import type {
  AssessUnitInput,
  LatestReading,
  UnitAssessment,
} from '@/lib/analysis/unit-assessment';
import { verdictOf, whatChangesItBack } from '@/lib/analysis/verdict';
import { ambientPressureAt, seaLevelEquivalent } from '@/lib/atmosphere';
import type { DayNumber } from '@/lib/measure';

export type { AssessUnitInput, BulletinDue, UnitAssessment } from '@/lib/analysis/unit-assessment';

/** Changes whenever the same input could give another verdict. */
export const methodVersion = '2';

/** Days ahead of the newest visit at which the chart's bands are drawn. */
const forecastDays = [0, 45, 91, 137, 182, 274, 365, 548, 730] as const;

/**
 * One unit's verdict as of a day: mark, every true reason, trend, forecasts and the next step. Facts
 * after `asOf` change nothing, so a verdict can be made again from the record. kPa, days.
 * Source: own method; stop limits judge the vacuum as read, wear limits its sea-level equivalent.
 * Thin data: Unread without a sound reading; no date and no wear score below four visits.
 *
 * @example assessUnit({ unit, readings: [], fitments: [], limits, prior, asOf }).mark is 'Unread'
 */
export function assessUnit(input: AssessUnitInput): UnitAssessment {
  const { unit, limits, prior, asOf } = input;
  const evidence = evidenceOf(input);
  const wear = segmentWear(evidence.visits, prior, limits);
  const belt = forecastBelt({
    odometers: evidence.odometers,
    belt: evidence.belt,
    limits,
    fleetRate: input.fleetBeltRate ?? null,
    asOf,
  });
  const verdict = verdictOf(input, evidence, wear, standingFindings(input, belt));
  const standing = standingOf(input);
  const mark = standing === 'in use' ? verdict.mark : null;
  const baseline = baselineOf(evidence.visits.filter(({ day }) => !wear.refutedOn.has(day)));
  const dueOn = nextReadingDue(mark, evidence, wear, limits, asOf);
  const stopSle = seaLevelEquivalent(limits.idleStopAsRead, ambientPressureAt(unit.elevation));
  const question = { asOf, nextReadingOn: dueOn, horizonDays: limits.horizonDays };
  const [wearPassage, stop] = wear.outcome
    .passages([limits.idleCautionSle, stopSle], question)
    .map((passage) => sinceRepair(passage, evidence)) as [FirstPassage, FirstPassage];
  const edge = earliestEdge({
    reasons: verdict.reasons,
    stop,
    wear: wearPassage,
    belt,
    bulletins: input.bulletinsDue ?? [],
    asOf,
  });
  const latest = newestSound(evidence.sound);
  const newestIdleOn = wear.outcome.steps.at(-1)?.day ?? null;
  return {
    unit: unit.unit,
    mark,
    standing,
    reasons: verdict.reasons,
    asOf,
    readingCount: evidence.sound.length,
    segmentReadingCount: evidence.visits.reduce((sum, { readings }) => sum + readings.length, 0),
    setAside: evidence.setAside.map(({ reading, why }) => ({ readingId: reading.id, why })),
    latest: latest && latestReading(latest, asOf, wear.unconfirmedOn),
    idle: idleTrendOf(evidence.visits, latest, wear.outcome.levelNow),
    baseline,
    recovery: recoveryTrendOf(evidence.visits, baseline.recovery),
    wear: { score: wear.outcome.score, ...wearPassage },
    stop,
    belt,
    diagnosis: diagnoseVisits(evidence, baseline, prior.noise, input.pressureUnit),
    segmentStart: evidence.segment.start,
    segmentPart: evidence.segment.part,
    forecast:
      newestIdleOn === null || input.isForecastCharted === false
        ? []
        : wear.outcome.forecast(forecastDays.map((days) => newestIdleOn + days)),
    nextReadingDue: dueOn,
    earliestEdge: edge?.on ?? null,
    earliestEdgeCause: edge?.cause ?? null,
    mayGoOut: mark !== null && mark !== 'Out of service',
    whatChangesItBack:
      standing === 'in use' ? whatChangesItBack(verdict) : 'Read before use again.',
    limitsVersion: limits.version,
    methodVersion,
  };
}

/** A repair starts a new segment: what was read before it is on record, and tells no date. */
const sinceRepair = (passage: FirstPassage, { sound }: Evidence): FirstPassage =>
  passage.whyNone === 'no reading' && sound.length > 0
    ? { ...passage, whyNone: 'no reading since the repair' }
    : passage;

function standingOf({ laidUpOn, leftFleetOn, asOf }: AssessUnitInput): UnitAssessment['standing'] {
  const isPast = (day: DayNumber | null | undefined) => day != null && day <= asOf;
  if (isPast(leftFleetOn)) return 'left the fleet';
  return isPast(laidUpOn) ? 'laid up' : 'in use';
}

function latestReading(
  reading: SoundReading,
  asOf: DayNumber,
  unconfirmedOn: DayNumber | null,
): LatestReading {
  const { id, readOn, technician, ambient, idle, idleSle, raised, lowest, lowestSle } = reading;
  const { recovery, holdLoss, holdTime, line, pedal, belt, odometer } = reading;
  return {
    readingId: id,
    readOn,
    daysAgo: asOf - readOn,
    ...{ technician, ambient, idle, idleSle, raised, lowest, lowestSle },
    ...{ recovery, holdLoss, holdTime, line, pedal, belt, odometer },
    isUnconfirmed: readOn === unconfirmedOn,
  };
}
