import { jsonb, pgTable, text, timestamp } from 'drizzle-orm/pg-core';

/** Settings of the whole fleet, e.g. the small-shop rule: proposed by one person, approved by another. */
export const setting = pgTable('setting', {
  name: text().primaryKey(),
  value: jsonb().$type<unknown>().notNull(),
  changedBy: text(),
  changedAt: timestamp({ withTimezone: true }).notNull(),
});
