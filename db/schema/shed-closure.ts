import { sql } from 'drizzle-orm';
import { check, doublePrecision, pgTable, primaryKey, text } from 'drizzle-orm/pg-core';
import { shed } from './shed';

/** Bay hours lost in an ISO week: holidays, closures. */
export const shedClosure = pgTable(
  'shed_closure',
  {
    shedId: text()
      .notNull()
      .references(() => shed.id),
    week: text().notNull(),
    hoursLost: doublePrecision().notNull(),
    reason: text().notNull(),
  },
  (table) => [
    primaryKey({ columns: [table.shedId, table.week] }),
    check('shed_closure_week', sql`${table.week} ~ '^[0-9]{4}-W[0-9]{2}$'`),
    check('shed_closure_hours', sql`${table.hoursLost} > 0`),
  ],
);
