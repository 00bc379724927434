import type { workOrder, workTask } from '@/db/schema';
import { dayFromIso, isoWeekOf } from '@/lib/calendar';
import type { Chance } from './chance';
import type { InventedHistory } from './histories';
import { people } from './places-and-people';

type OrderRow = typeof workOrder.$inferInsert & { readonly id: string };
type TaskRow = typeof workTask.$inferInsert;

const uuidOf = (index: number, kind: number): string =>
  `00000000-0000-4000-${(0x8000 + kind).toString(16)}-${index.toString(16).padStart(12, '0')}`;

/** A closed work order for each part that the history replaced, so that lives and causes can be read back. */
export function pastOrders(
  chance: Chance,
  histories: readonly InventedHistory[],
): { orders: OrderRow[]; tasks: TaskRow[] } {
  const orders: OrderRow[] = [];
  const tasks: TaskRow[] = [];
  for (const { unit, fitments } of histories) {
    const technicians = people.filter(
      ({ role, shedIds }) => role === 'technician' && shedIds.includes(unit.shedId),
    );
    for (const removed of fitments) {
      if (removed.removedOn == null || (removed.part !== 'pump' && removed.part !== 'belt'))
        continue;
      const day = dayFromIso(removed.removedOn) ?? 0;
      const at = (offset: number, hour: number) =>
        new Date((day + offset) * 86_400_000 + hour * 3_600_000);
      const id = uuidOf(orders.length + 1, 1);
      const technician = chance.pick(technicians).id;
      const isPump = removed.part === 'pump';
      orders.push({
        id,
        unitId: unit.id,
        state: 'closed',
        why: isPump ? 'Idle vacuum falling toward its limit' : 'Pump belt due by distance',
        raisedFrom: isPump ? 'verdict' : 'belt',
        raisedBy: 'ines',
        raisedAt: at(-12, 16),
        shedId: unit.shedId,
        week: isoWeekOf(day),
        begunBy: technician,
        begunAt: at(0, 15),
        finishedBy: technician,
        finishedAt: at(0, 18),
        finishedOdometerKm: removed.removedOdometerKm ?? null,
        foundCause: isPump ? 'pump' : null,
        predictedCause: isPump ? (chance.happens(0.85) ? 'pump' : 'cannot tell') : null,
        closedAt: at(0, 20),
      });
      const successor = fitments.find(
        ({ part, fittedOn }) => part === removed.part && fittedOn === removed.removedOn,
      );
      if (successor) successor.workOrderId = id;
      tasks.push({
        id: uuidOf(tasks.length + 1, 2),
        workOrderId: id,
        position: 1,
        kind: removed.part,
        title: isPump ? 'Replace the vacuum pump' : 'Replace the pump belt',
        hours: isPump ? 2.2 : 0.8,
        state: 'done',
        partNumber: isPump ? 'VP-210' : 'PB-6-1210',
        doneBy: technician,
        doneAt: at(0, 18),
      });
    }
  }
  return { orders, tasks };
}
