import { dayFromIso, isoFromDay } from '@/lib/calendar';
import type { DayNumber } from '@/lib/measure';

export type HowFound = 'reading' | 'driver' | 'bulletin';

export interface SpellToReview {
  readonly unitId: string;
  readonly openedOn: DayNumber;
  readonly releasedOn: DayNumber | null;
  readonly howFound: HowFound;
  readonly wasWarned: boolean;
}

export interface UnitToReview {
  readonly trackedFrom: DayNumber;
  readonly leftOn: DayNumber | null;
  /** Days of its readings, in order. */
  readonly readOn: readonly DayNumber[];
}

export interface ReviewMonth {
  /** ISO 8601 month, e.g. `2026-01`. */
  readonly month: string;
  readonly opened: number;
  readonly closed: number;
  readonly byReading: number;
  readonly byDriver: number;
  readonly byBulletin: number;
  /** Opened on a unit that bore Drifting or Book in beforehand. */
  readonly warned: number;
  /** Opened within 180 days of the same unit's spell before. */
  readonly repeated: number;
  /** Unit-days out of service within the month; a day counts for each unit that began it out. */
  readonly daysOut: number;
  /** Units without a reading within interval and grace at the month's end. */
  readonly overdue: number;
}

interface Review {
  readonly spells: readonly SpellToReview[];
  readonly units: readonly UnitToReview[];
  /** Months up to and with that of this day. */
  readonly asOf: DayNumber;
  readonly months: number;
  readonly daysUntilOverdue: number;
}

/** How near a spell counts as a repeat of the one before. Own choice. */
export const repeatedWithinDays = 180;

/**
 * The months' figures of units out of service, oldest first; the running month counts up to `asOf`.
 * Source: own definitions. Thin data: a month without spells has zeros.
 *
 * @example a spell from 2026-01-30 to 2026-02-02 gives 2 days out in January, 1 in February
 */
export function reviewMonths(review: Review): readonly ReviewMonth[] {
  const current = isoFromDay(review.asOf).slice(0, 7);
  return Array.from({ length: review.months }, (_, index) =>
    monthBefore(current, review.months - 1 - index),
  ).map((month) => reviewOf(month, review));
}

function monthBefore(month: string, count: number): string {
  const [year, number] = month.split('-').map(Number) as [number, number];
  const months = year * 12 + number - 1 - count;
  return `${Math.floor(months / 12)}-${String((months % 12) + 1).padStart(2, '0')}`;
}

function reviewOf(month: string, { spells, units, asOf, daysUntilOverdue }: Review): ReviewMonth {
  const first = dayFromIso(`${month}-01`) ?? 0;
  const end = Math.min(asOf + 1, dayFromIso(`${monthBefore(month, -1)}-01`) ?? 0);
  const isWithin = (day: DayNumber | null) => day !== null && day >= first && day < end;
  const opened = spells.filter(({ openedOn }) => isWithin(openedOn));
  const found = (how: HowFound) => opened.filter(({ howFound }) => howFound === how).length;
  return {
    month,
    opened: opened.length,
    closed: spells.filter(({ releasedOn }) => isWithin(releasedOn)).length,
    byReading: found('reading'),
    byDriver: found('driver'),
    byBulletin: found('bulletin'),
    warned: opened.filter(({ wasWarned }) => wasWarned).length,
    repeated: opened.filter((spell) => isRepeated(spell, spells)).length,
    daysOut: spells.reduce(
      (sum, { openedOn, releasedOn }) =>
        sum + Math.max(0, Math.min(end, releasedOn ?? end) - Math.max(first, openedOn)),
      0,
    ),
    overdue: units.filter((unit) => isOverdue(unit, end - 1, daysUntilOverdue)).length,
  };
}

const isRepeated = (spell: SpellToReview, spells: readonly SpellToReview[]): boolean =>
  spells.some(
    (before) =>
      before !== spell &&
      before.unitId === spell.unitId &&
      before.releasedOn !== null &&
      before.releasedOn <= spell.openedOn &&
      spell.openedOn - before.releasedOn <= repeatedWithinDays,
  );

function isOverdue(unit: UnitToReview, on: DayNumber, daysUntilOverdue: number): boolean {
  if (unit.trackedFrom > on || (unit.leftOn !== null && unit.leftOn <= on)) return false;
  const last = unit.readOn.findLast((day) => day <= on) ?? unit.trackedFrom;
  return on - last > daysUntilOverdue;
}
