import { type Mark, marks, type Reason } from '@/lib/analysis/assessment';
import { baselineOf } from '@/lib/analysis/baseline';
import type { Evidence } from '@/lib/analysis/evidence';
import { cautionFindings, stopFindings } from '@/lib/analysis/limit-findings';
import { type Finding, psiAndMiles, reasonsOf, type UnitsOfMeasure } from '@/lib/analysis/rules';
import type { SegmentWear } from '@/lib/analysis/segment-wear';
import { provingFindings, unreadFindings } from '@/lib/analysis/standing-findings';
import {
  belowBaselineFindings,
  scoreFindings,
  unconfirmedFindings,
} from '@/lib/analysis/trend-findings';
import type { AssessUnitInput } from '@/lib/analysis/unit-assessment';
import type { Visit } from '@/lib/analysis/visits';
import type { DayNumber } from '@/lib/measure';

export interface Verdict {
  readonly mark: Mark;
  readonly reasons: readonly Reason[];
}

/**
 * Every rule that is true of a unit, and its mark: the worst of them. While the newest reading is
 * unconfirmed the rules hold that are true with it or without it.
 */
export function verdictOf(
  input: AssessUnitInput,
  evidence: Evidence,
  wear: SegmentWear,
  standing: readonly Finding[],
): Verdict {
  const { unconfirmedOn } = wear;
  const findings = [
    ...standing,
    ...readingFindings(input, evidence, wear),
    ...(unconfirmedOn === null
      ? []
      : readingFindings(input, withoutDay(evidence, unconfirmedOn), wear)),
    ...unconfirmedFindings(wear, evidence.visits),
  ];
  const units: UnitsOfMeasure = {
    pressure: input.pressureUnit ?? psiAndMiles.pressure,
    distance: input.distanceUnit ?? psiAndMiles.distance,
  };
  return verdictFrom(reasonsOf(oneOfEach(findings), units));
}

/** The mark of the worst of some reasons, worst first; without one that speaks, every limit is kept. */
export function verdictFrom(reasons: readonly Reason[]): Verdict {
  const mark = reasons[0]?.mark ?? 'Holding';
  return mark === 'Holding'
    ? { mark, reasons: [...reasons, ...reasonsOf([{ rule: 'inside limits' }])] }
    : { mark, reasons };
}

function readingFindings(
  { limits, asOf, vacuumOrderClosedOn }: AssessUnitInput,
  evidence: Evidence,
  wear: SegmentWear,
): readonly Finding[] {
  const { visits, visitsSince, beltVisits, closing } = evidence;
  const isCredible = ({ day }: Visit) => !wear.refutedOn.has(day);
  const baseline = baselineOf(visits.filter(isCredible));
  const held = {
    visits: visitsSince.filter(isCredible),
    beltVisits,
    baseline,
    limits,
    isHeldUntilClosed: vacuumOrderClosedOn !== undefined,
  };
  const since = visitsSince[0]?.day ?? Number.POSITIVE_INFINITY;
  const hasNewEvidence =
    closing === null || wear.outcome.steps.some(({ day }) => day > closing.closedOn);
  return [
    ...stopFindings(held),
    ...cautionFindings(held),
    ...unreadFindings(evidence, asOf, limits),
    ...provingFindings(evidence, limits),
    ...belowBaselineFindings(visits.filter(isCredible), baseline.idleSle, limits, since),
    // People have answered for what was read before they closed the case.
    ...(hasNewEvidence ? scoreFindings(wear, limits) : []),
  ];
}

function withoutDay(evidence: Evidence, unconfirmedOn: DayNumber): Evidence {
  const others = ({ day }: Visit) => day !== unconfirmedOn;
  return {
    ...evidence,
    sound: evidence.sound.filter(({ readOn }) => readOn !== unconfirmedOn),
    visits: evidence.visits.filter(others),
    visitsSince: evidence.visitsSince.filter(others),
    beltVisits: evidence.beltVisits.filter(others),
  };
}

/** A rule true both with and without a reading is one reason. Bulletins are one reason each. */
export function oneOfEach(findings: readonly Finding[]): readonly Finding[] {
  const seen = new Map<string, Finding>();
  for (const finding of findings) {
    const key = finding.rule.includes('bulletin')
      ? `${finding.rule} ${finding.about}`
      : finding.rule;
    if (!seen.has(key)) seen.set(key, finding);
  }
  const has = (rule: Finding['rule']) => seen.has(rule);
  if (has('film twice')) seen.delete('film once');
  if (has('wear score')) seen.delete('wear score rising');
  return [...seen.values()];
}

/** What it takes to leave a mark. */
export function whatChangesItBack({ mark, reasons }: Verdict): string {
  const has = (...rules: string[]) => reasons.some(({ rule }) => rules.includes(rule));
  switch (mark) {
    case 'Out of service':
      return 'Repair certified, a proof reading that passes, and release to service by another person.';
    case 'Book in': {
      const done: string[] = [];
      if (reasons.some((reason) => reason.mark === mark && isOfVacuum(reason))) {
        done.push('a vacuum work order closed, repaired or nothing found');
      }
      if (has('belt due', 'belt worn')) done.push('a new belt fitted');
      if (has('bulletin due')) done.push('the bulletin done');
      return sentence(done);
    }
    case 'Unread':
      return has('line not seen') && !has('reading overdue', 'newest reading set aside')
        ? 'A reading with the line off at the booster and looked into.'
        : 'A sound reading.';
    case 'Proving':
      return 'Two readings inside caution, dry, at least 7 days apart; the proof does not count.';
    case 'Drifting':
      return 'Two readings running without cause.';
    case 'Holding':
      return 'Nothing to change: read again when due.';
  }
}

const isOfVacuum = ({ rule }: Reason): boolean =>
  !['belt due', 'belt worn', 'bulletin due'].includes(rule);

const sentence = (parts: readonly string[]): string => {
  const text = `${parts.join('; ')}.`;
  return text[0]!.toUpperCase() + text.slice(1);
};

/** Worst first, for ranking; a unit without a mark comes last. */
export const rankOfMark = (mark: Mark | null): number =>
  mark === null ? marks.length : marks.indexOf(mark);
