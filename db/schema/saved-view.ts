import { sql } from 'drizzle-orm';
import { check, pgTable, text, timestamp, unique, uuid } from 'drizzle-orm/pg-core';
import { person } from './person';

/** A person's own name for an address of the yard: filters, order and columns. */
export const savedView = pgTable(
  'saved_view',
  {
    id: uuid().primaryKey().defaultRandom(),
    personId: text()
      .notNull()
      .references(() => person.id, { onDelete: 'cascade' }),
    name: text().notNull(),
    address: text().notNull(),
    savedAt: timestamp({ withTimezone: true }).notNull(),
  },
  (table) => [
    unique('saved_view_name').on(table.personId, table.name),
    check('saved_view_name_length', sql`length(${table.name}) between 1 and 60`),
    check('saved_view_address_length', sql`length(${table.address}) <= 1000`),
  ],
);
