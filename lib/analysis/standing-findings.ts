import type { BeltForecast } from '@/lib/analysis/assessment';
import type { Evidence } from '@/lib/analysis/evidence';
import type { Limits } from '@/lib/analysis/limits';
import type { SoundReading } from '@/lib/analysis/normalise';
import { owedReadings } from '@/lib/analysis/owed-readings';
import type { Finding } from '@/lib/analysis/rules';
import type { AssessUnitInput, BulletinDue } from '@/lib/analysis/unit-assessment';
import type { DayNumber } from '@/lib/measure';

/** What people and bulletins say of a unit, and what falls due within the horizon. */
export function standingFindings(
  { openSpell = null, bulletinsDue = [], asOf, limits }: AssessUnitInput,
  belt: BeltForecast,
): readonly Finding[] {
  const horizon = asOf + limits.horizonDays;
  const findings: Finding[] = [];
  if (openSpell && openSpell.openedOn <= asOf) {
    findings.push({ rule: 'open spell', about: openSpell.why, on: openSpell.openedOn });
  }
  findings.push(...bulletinFindings(bulletinsDue, horizon));
  if (belt.due !== null && belt.due <= horizon) {
    findings.push({
      rule: 'belt due',
      limit: limits.beltDistance,
      on: belt.due,
      ...(belt.distanceLeft !== null && { value: belt.distanceLeft }),
    });
  }
  return findings;
}

/** A bulletin not to drive under speaks at once, a due date when it falls inside the horizon. */
export function bulletinFindings(
  bulletinsDue: readonly BulletinDue[],
  horizon: DayNumber,
): readonly Finding[] {
  return bulletinsDue.flatMap(({ number, dueOn, isDoNotDrive }): Finding[] => [
    ...(isDoNotDrive ? [{ rule: 'do-not-drive bulletin', about: number } as const] : []),
    ...(dueOn !== null && dueOn <= horizon
      ? [{ rule: 'bulletin due', about: number, on: dueOn } as const]
      : []),
  ]);
}

/** Silence is never Holding: no sound reading, an old one, one that cannot be true, or a line not seen. */
export function unreadFindings(
  { sound, setAside }: Pick<Evidence, 'sound' | 'setAside'>,
  asOf: DayNumber,
  limits: Limits,
): readonly Finding[] {
  const newest = newestSound(sound);
  const findings: Finding[] = [];
  const refused = setAside.at(-1);
  if (refused && refused.reading.readOn > (newest?.readOn ?? Number.NEGATIVE_INFINITY)) {
    findings.push({
      rule: 'newest reading set aside',
      about: refused.why,
      on: refused.reading.readOn,
      readingIds: [refused.reading.id],
    });
  }
  if (!newest) return [...findings, { rule: 'never read' }];
  const allowed = limits.readingIntervalDays + limits.readingGraceDays;
  const readingIds = [newest.id];
  if (asOf - newest.readOn > allowed) {
    findings.push({
      rule: 'reading overdue',
      value: asOf - newest.readOn,
      limit: allowed,
      on: newest.readOn + allowed,
      readingIds,
    });
  }
  if (newest.line === 'not seen') {
    findings.push({ rule: 'line not seen', on: newest.readOn, readingIds });
  }
  return findings;
}

/** A reading without an idle value says too little to count as one. */
export const newestSound = (sound: readonly SoundReading[]): SoundReading | null =>
  sound.findLast(({ idle }) => idle !== null) ?? null;

/** Back in service, two good readings still owed. */
export function provingFindings(evidence: Evidence, limits: Limits): readonly Finding[] {
  const { closing } = evidence;
  const owed = closing && owedReadings(evidence, limits);
  if (!closing || !owed) return [];
  return [{ rule: 'good readings owed', about: String(owed.count), on: closing.closedOn }];
}
