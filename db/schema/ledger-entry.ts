import { bigint, index, pgTable, text, timestamp } from 'drizzle-orm/pg-core';

/**
 * The chained record. The chain covers digests of payloads; the payloads lie apart and can be purged
 * by policy without breaking it. Guarded against UPDATE, DELETE and TRUNCATE by grants and triggers.
 */
export const ledgerEntry = pgTable(
  'ledger_entry',
  {
    entry: bigint({ mode: 'number' }).primaryKey(),
    at: timestamp({ withTimezone: true }).notNull(),
    deviceAt: timestamp({ withTimezone: true }),
    personId: text(),
    kind: text().notNull(),
    unitId: text(),
    payloadDigest: text().notNull(),
    previousHash: text().notNull(),
    hash: text().notNull().unique(),
  },
  (table) => [
    index('ledger_entry_unit').on(table.unitId, table.entry),
    index('ledger_entry_person').on(table.personId, table.entry),
    index('ledger_entry_kind').on(table.kind, table.entry),
  ],
);

export const ledgerPayload = pgTable('ledger_payload', {
  entry: bigint({ mode: 'number' })
    .primaryKey()
    .references(() => ledgerEntry.entry),
  /** Canonical JSON (RFC 8785), byte for byte as hashed. */
  canonical: text().notNull(),
});
