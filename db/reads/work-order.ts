import { and, asc, eq, inArray } from 'drizzle-orm';
import type { Actor } from '@/lib/access';
import type { Db } from '../client';
import {
  bulletin,
  fitment,
  jobTemplate,
  partStock,
  person,
  shed,
  unit,
  workOrder,
  workTask,
} from '../schema';
import { unitsSeenBy } from './units-seen-by';

/** One order with all that its job card prints, or null where the actor sees no such order. */
export async function workOrderByNumber(db: Db, actor: Actor, number: number) {
  const [row] = await db
    .select({ order: workOrder, unit, shed })
    .from(workOrder)
    .innerJoin(unit, eq(unit.id, workOrder.unitId))
    .innerJoin(shed, eq(shed.id, unit.shedId))
    .where(and(eq(workOrder.number, number), unitsSeenBy(actor)));
  if (!row) return null;
  const tasks = await db
    .select()
    .from(workTask)
    .where(eq(workTask.workOrderId, row.order.id))
    .orderBy(asc(workTask.position));
  const kinds = [...new Set(tasks.map(({ kind }) => kind))];
  const templates = kinds.length
    ? await db.select().from(jobTemplate).where(inArray(jobTemplate.kind, kinds))
    : [];
  const bulletinIds = tasks.flatMap(({ bulletinId }) => bulletinId ?? []);
  const bulletins = bulletinIds.length
    ? await db.select().from(bulletin).where(inArray(bulletin.id, bulletinIds))
    : [];
  const fitted = await db
    .select()
    .from(fitment)
    .where(eq(fitment.unitId, row.order.unitId))
    .orderBy(asc(fitment.part), asc(fitment.fittedOn));
  const stock = await db
    .select()
    .from(partStock)
    .orderBy(asc(partStock.partNumber), asc(partStock.revision));
  const ids = [row.order.raisedBy, row.order.begunBy, row.order.finishedBy].filter(
    (id) => id !== null,
  );
  const people = ids.length
    ? await db
        .select({ id: person.id, name: person.name })
        .from(person)
        .where(inArray(person.id, ids))
    : [];
  return {
    ...row,
    tasks,
    templates: new Map(templates.map((template) => [template.kind, template])),
    bulletins: new Map(bulletins.map((one) => [one.id, one])),
    fitted,
    stock,
    nameOf: new Map(people.map(({ id, name }) => [id, name])),
  };
}
export type WorkOrderView = NonNullable<Awaited<ReturnType<typeof workOrderByNumber>>>;
