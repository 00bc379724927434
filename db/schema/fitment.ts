import { sql } from 'drizzle-orm';
import {
  check,
  date,
  doublePrecision,
  index,
  pgTable,
  text,
  uniqueIndex,
  uuid,
} from 'drizzle-orm/pg-core';
import { parts, removalReasons } from '@/lib/analysis/reading';
import { oneOf } from './one-of';
import { unit } from './unit';
import { workOrder } from './work-order';

/** A part's life on a unit. At most one of each part is fitted at a time. */
export const fitment = pgTable(
  'fitment',
  {
    id: uuid().primaryKey().defaultRandom(),
    unitId: text()
      .notNull()
      .references(() => unit.id),
    part: text({ enum: parts }).notNull(),
    revision: text(),
    dateCode: text(),
    fittedOn: date(),
    fittedOdometerKm: doublePrecision(),
    removedOn: date(),
    removedOdometerKm: doublePrecision(),
    whyRemoved: text({ enum: removalReasons }),
    workOrderId: uuid().references(() => workOrder.id),
  },
  (table) => [
    index('fitment_unit').on(table.unitId),
    index('fitment_work_order').on(table.workOrderId),
    uniqueIndex('fitment_fitted_now')
      .on(table.unitId, table.part)
      .where(sql`${table.removedOn} is null`),
    check('fitment_part', oneOf(table.part, parts)),
    check('fitment_why_removed', oneOf(table.whyRemoved, removalReasons)),
    check('fitment_dates', sql`${table.removedOn} >= ${table.fittedOn}`),
    check('fitment_removed_why', sql`(${table.removedOn} is null) = (${table.whyRemoved} is null)`),
    check('fitment_fitted_odometer', sql`${table.fittedOdometerKm} >= 0`),
    check('fitment_removed_odometer', sql`${table.removedOdometerKm} >= 0`),
  ],
);
