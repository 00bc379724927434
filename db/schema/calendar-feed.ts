import { pgTable, text, timestamp, uuid } from 'drizzle-orm/pg-core';
import { person } from './person';

/** An address that a calendar program reads the bay plan by; only the digest of its token is kept. */
export const calendarFeed = pgTable('calendar_feed', {
  id: uuid().primaryKey().defaultRandom(),
  personId: text()
    .notNull()
    .unique()
    .references(() => person.id, { onDelete: 'cascade' }),
  tokenDigest: text().notNull().unique(),
  madeAt: timestamp({ withTimezone: true }).notNull(),
});
