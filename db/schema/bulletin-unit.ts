import { sql } from 'drizzle-orm';
import {
  check,
  date,
  index,
  jsonb,
  pgTable,
  primaryKey,
  text,
  timestamp,
  uuid,
} from 'drizzle-orm/pg-core';
import { applicabilities } from '@/lib/bulletins/applies-to-unit';
import { bulletinStatuses } from '@/lib/bulletins/bulletin-state';
import { bulletin } from './bulletin';
import { oneOf } from './one-of';
import { person } from './person';
import { unit } from './unit';
import { workOrder } from './work-order';

/** Applicability is computed; status is human. */
export const bulletinUnit = pgTable(
  'bulletin_unit',
  {
    bulletinId: uuid()
      .notNull()
      .references(() => bulletin.id, { onDelete: 'cascade' }),
    unitId: text()
      .notNull()
      .references(() => unit.id),
    applicability: text({ enum: applicabilities }).notNull(),
    why: text().notNull(),
    missing: jsonb()
      .$type<readonly { fact: string; whoCanGetIt: string; how: string }[]>()
      .notNull(),
    status: text({ enum: bulletinStatuses }).notNull(),
    statusBy: text().references(() => person.id),
    statusAt: timestamp({ withTimezone: true }).notNull(),
    statusReason: text(),
    reviewOn: date(),
    workOrderId: uuid().references(() => workOrder.id),
    fittedRevision: text(),
  },
  (table) => [
    primaryKey({ columns: [table.bulletinId, table.unitId] }),
    // Holds all that the effectivity matrix counts: it never reads the reasons.
    index('bulletin_unit_status').on(table.unitId, table.bulletinId, table.status),
    // The work list of missing facts asks which units wait for any.
    index('bulletin_unit_undecided').on(table.unitId).where(sql`${table.status} = 'undecided'`),
    check('bulletin_unit_applicability', oneOf(table.applicability, applicabilities)),
    check('bulletin_unit_status', oneOf(table.status, bulletinStatuses)),
  ],
);
