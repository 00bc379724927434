import type { DayNumber } from '@/lib/measure';

export interface UnitToRead {
  readonly unit: string;
  readonly shedId: string;
  /** Day by which the interval, or a reading still owed, wants it; null when it was never read. */
  readonly dueOn: DayNumber | null;
  /** Probability that a limit is met before the next reading; null when there is no forecast. */
  readonly risk: number | null;
}

export interface RoundRules {
  readonly firstMonday: DayNumber;
  readonly weekCount: number;
  readonly intervalDays: number;
  readonly graceDays: number;
}

export interface RoundEntry {
  readonly unit: string;
  readonly shedId: string;
  readonly monday: DayNumber;
  /** The interval has run out; null for a unit that was never read. */
  readonly dueOn: DayNumber | null;
  readonly isOverdue: boolean;
  /** The week ends after the interval and its grace have run out. */
  readonly isPastGrace: boolean;
}

interface Waiting extends UnitToRead {
  /** Last week, as an index, that ends within the grace; below 0 when it has already passed. */
  readonly lastWeek: number;
  /** The sooner the earlier: due date, brought forward by its risk. */
  readonly urgency: number;
}

function waitingOf(unit: UnitToRead, rules: RoundRules): Waiting {
  const { firstMonday, intervalDays, graceDays } = rules;
  const { dueOn } = unit;
  if (dueOn === null) return { ...unit, lastWeek: -1, urgency: Number.NEGATIVE_INFINITY };
  const lastWeek = Math.floor((dueOn + graceDays - 6 - firstMonday) / 7);
  return { ...unit, lastWeek, urgency: dueOn - (unit.risk ?? 0) * intervalDays };
}

const isOverdue = ({ dueOn }: Waiting, firstMonday: DayNumber): boolean =>
  dueOn === null || dueOn < firstMonday;

/** The fewest readings a week that spread the shed's units and keep all that can be kept within the grace. */
function readingsPerWeek(units: readonly Waiting[], weekCount: number): number {
  let perWeek = Math.ceil(units.length / weekCount);
  const overdue = units.filter(({ lastWeek }) => lastWeek < 0).length;
  for (let week = 0; week < weekCount; week++) {
    const dueByThen = units.filter(({ lastWeek }) => lastWeek >= 0 && lastWeek <= week).length;
    if (dueByThen > 0) perWeek = Math.max(perWeek, Math.ceil((overdue + dueByThen) / (week + 1)));
  }
  return perWeek;
}

/**
 * Spreads the readings of a quarter over its weeks, shed by shed, as evenly as the due dates allow:
 * units never read first, then overdue ones, then by due date; risk brings a unit forward by that
 * share of the interval, so one with an even chance comes half an interval early. A unit that would
 * break its grace by giving way to a riskier one keeps its week.
 */
export function readingsRound(units: readonly UnitToRead[], rules: RoundRules): RoundEntry[] {
  const { firstMonday, weekCount } = rules;
  if (weekCount < 1) return [];
  const sheds = new Set(units.map(({ shedId }) => shedId));
  return [...sheds].toSorted().flatMap((shed) => {
    const waiting = units
      .filter(({ shedId }) => shedId === shed)
      .map((unit) => waitingOf(unit, rules))
      .sort(
        (a, b) =>
          Number(isOverdue(b, firstMonday)) - Number(isOverdue(a, firstMonday)) ||
          (a.urgency === b.urgency ? 0 : a.urgency - b.urgency) ||
          (b.risk ?? 0) - (a.risk ?? 0) ||
          (a.unit < b.unit ? -1 : 1),
      );
    const perWeek = readingsPerWeek(waiting, weekCount);
    return spreadOverWeeks(waiting, perWeek, rules);
  });
}

function spreadOverWeeks(
  inOrder: readonly Waiting[],
  perWeek: number,
  { firstMonday, weekCount }: RoundRules,
): RoundEntry[] {
  const entries: RoundEntry[] = [];
  let waiting = [...inOrder];
  for (let week = 0; week < weekCount; week++) {
    // Whoever has to come now, or to leave room for others later, comes before the riskier ones.
    const pressed = new Set<Waiting>();
    const due = new Array<number>(weekCount).fill(0);
    for (const { lastWeek } of waiting) if (lastWeek >= 0 && lastWeek < weekCount) due[lastWeek]!++;
    let dueByThen = due.slice(0, week).reduce((sum, units) => sum + units, 0);
    for (let last = week; last < weekCount; last++) {
      dueByThen += due[last]!;
      const mustCome = dueByThen - perWeek * (last - week) - pressed.size;
      if (mustCome <= 0) continue;
      const next = waiting
        .filter((unit) => unit.lastWeek >= 0 && unit.lastWeek <= last && !pressed.has(unit))
        .slice(0, mustCome);
      for (const unit of next) pressed.add(unit);
    }
    const chosen = [...pressed, ...waiting.filter((unit) => !pressed.has(unit))].slice(0, perWeek);
    const monday = firstMonday + 7 * week;
    for (const { unit, shedId, dueOn, lastWeek } of chosen) {
      const wasOverdue = dueOn === null || dueOn < firstMonday;
      entries.push({
        unit,
        shedId,
        monday,
        dueOn,
        isOverdue: wasOverdue,
        isPastGrace: lastWeek < week,
      });
    }
    const gone = new Set(chosen);
    waiting = waiting.filter((unit) => !gone.has(unit));
  }
  return entries;
}
