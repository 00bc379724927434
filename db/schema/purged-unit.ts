import { bigint, integer, pgTable, primaryKey, text, timestamp } from 'drizzle-orm/pg-core';
import { ledgerEntry } from './ledger-entry';
import { unit } from './unit';

/** What policy took from the record of a unit, and by which ledger entry. Only added to. */
export const purgedUnit = pgTable(
  'purged_unit',
  {
    entry: bigint({ mode: 'number' })
      .notNull()
      .references(() => ledgerEntry.entry),
    unitId: text()
      .notNull()
      .references(() => unit.id),
    purgedAt: timestamp({ withTimezone: true }).notNull(),
    readings: integer().notNull(),
    verdicts: integer().notNull(),
    spells: integer().notNull(),
    orders: integer().notNull(),
    payloads: integer().notNull(),
  },
  (table) => [primaryKey({ columns: [table.unitId, table.entry] })],
);
