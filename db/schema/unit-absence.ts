import { sql } from 'drizzle-orm';
import { check, pgTable, primaryKey, text } from 'drizzle-orm/pg-core';
import { unit } from './unit';

/** An ISO week in which a unit cannot come to a bay: away on a job, lent, in season. */
export const unitAbsence = pgTable(
  'unit_absence',
  {
    unitId: text()
      .notNull()
      .references(() => unit.id),
    week: text().notNull(),
    reason: text().notNull(),
  },
  (table) => [
    primaryKey({ columns: [table.unitId, table.week] }),
    check('unit_absence_week', sql`${table.week} ~ '^[0-9]{4}-W[0-9]{2}$'`),
  ],
);
