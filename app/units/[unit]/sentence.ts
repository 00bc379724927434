import { forecast, inWeeks, isoDate, whyNoDateWords } from '@/app/_ui/format';
import { reasonText, type UnitsOfMeasure } from '@/lib/analysis/rules';
import type { UnitAssessment } from '@/lib/analysis/unit-assessment';
import { fromKilopascals, type Kilopascals, pressureDecimals } from '@/lib/measure';

export interface SheetSentence {
  /** What is the matter, or what is forecast. */
  readonly finding: string;
  /** Whether it may be driven today. */
  readonly use: string;
  /** What to do, and by when. */
  readonly action: string;
}

const quarter = 91.3125 / 365.25;

/** What the sheet says first, in plain words. */
export function sheetSentence(
  assessment: UnitAssessment,
  wearLimit: Kilopascals,
  units: UnitsOfMeasure,
): SheetSentence {
  return {
    finding: findingOf(assessment, wearLimit, units),
    use: drivingOf(assessment),
    action: actionOf(assessment),
  };
}

function findingOf(
  assessment: UnitAssessment,
  wearLimit: Kilopascals,
  units: UnitsOfMeasure,
): string {
  const { standing, readingCount, reasons, asOf, wear, mark } = assessment;
  if (standing !== 'in use') return standing === 'laid up' ? 'Laid up.' : 'Left the fleet.';
  if (readingCount === 0 && mark === 'Unread') return 'Never read. Read it.';
  const [first] = reasons;
  const said = first ? reasonText(first, units) : '';
  if (mark === 'Holding' || first?.measure === 'probability') {
    if (wear.median !== null) return wearWords(assessment, wearLimit, units);
    const words = whyNoDateWords[wear.whyNone ?? 'too few'];
    return `${said} Forecast: ${words}.`;
  }
  const { belt } = assessment;
  if (first?.rule !== 'belt due' || belt.due === null || belt.due <= asOf) return said;
  return `${said} Expected ${forecast({ ...belt, median: belt.due, whyNone: null }, asOf)}.`;
}

function wearWords(
  { idle, wear, asOf }: UnitAssessment,
  wearLimit: Kilopascals,
  { pressure }: UnitsOfMeasure,
): string {
  const limit = fromKilopascals(wearLimit, pressure).toFixed(pressureDecimals[pressure]);
  const isPast = wear.median !== null && wear.median <= asOf;
  const ahead = isPast
    ? `has most likely met the wear limit of ${limit} ${pressure} by now`
    : `should meet the wear limit of ${limit} ${pressure} ${forecast(wear, asOf)}`;
  const slope = idle.slopePerYear;
  if (slope === null || slope >= 0) return `Idle vacuum ${ahead}.`;
  const fall = fromKilopascals(-slope * quarter, pressure).toFixed(2);
  return `Idle vacuum falls ${fall} ${pressure} a quarter. It ${ahead}.`;
}

function drivingOf({ mark, mayGoOut, latest, standing }: UnitAssessment): string {
  if (standing !== 'in use') return 'Not in use: read it before it is driven again.';
  if (!mayGoOut) return 'Must not be driven.';
  if (mark === 'Unread') {
    return latest
      ? `Nothing newer than ${isoDate(latest.readOn)} speaks for it.`
      : 'No reading speaks for it.';
  }
  return 'May be used now.';
}

function actionOf(assessment: UnitAssessment): string {
  const { mark, asOf, earliestEdge, nextReadingDue, latest, readingCount } = assessment;
  const again = latest?.isUnconfirmed
    ? 'Read it again today: the newest value is unconfirmed.'
    : '';
  if (mark === 'Out of service') {
    return `Repair, proof and two signatures bring it back. ${again}`.trimEnd();
  }
  if (again) return again;
  if (mark === 'Book in') {
    return earliestEdge === null || earliestEdge <= asOf + 7
      ? 'Book it into a bay now.'
      : `Bay it before ${isoDate(earliestEdge)}, ${inWeeks(earliestEdge, asOf)}.`;
  }
  if (readingCount === 0) return '';
  if (nextReadingDue === null) return 'Read it.';
  return nextReadingDue <= asOf
    ? 'Read it now.'
    : `Read it by ${isoDate(nextReadingDue)}, ${inWeeks(nextReadingDue, asOf)}.`;
}
