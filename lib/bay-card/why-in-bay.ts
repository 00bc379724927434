import { isoWeekOf } from '@/lib/calendar';
import type { DayNumber } from '@/lib/measure';

interface OpenOrder {
  readonly number: number;
  readonly state: string;
  readonly week: string | null;
}

/** An order at work, or a reading that is due, brings a unit into the bay. Null where neither does. */
export function whyInBay(
  order: OpenOrder | undefined,
  dueOn: DayNumber | null,
  asOf: DayNumber,
  isLaidUp: boolean,
): string | null {
  if (order?.state === 'finished') return `order ${order.number} wants its proof`;
  if (order?.state === 'begun') return `order ${order.number} begun`;
  if (order?.state === 'placed' && order.week === isoWeekOf(asOf)) {
    return `order ${order.number} this week`;
  }
  if (isLaidUp) return null;
  if (dueOn === null || dueOn > asOf) return null;
  return dueOn === asOf ? 'due today' : `reading ${asOf - dueOn} days overdue`;
}
