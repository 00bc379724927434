import { sql } from 'drizzle-orm';
import { check, customType, pgTable, text, timestamp, uuid } from 'drizzle-orm/pg-core';
import { mostPhotoBytes } from '@/lib/intake/line-photo';
import { person } from './person';
import { reading } from './reading';

const bytes = customType<{ data: Uint8Array }>({ dataType: () => 'bytea' });

/** The inside of the vacuum line as it looked at a reading. Its digest is on the ledger. */
export const linePhoto = pgTable(
  'line_photo',
  {
    readingId: uuid()
      .primaryKey()
      .references(() => reading.id),
    content: bytes().notNull(),
    digest: text().notNull(),
    sentBy: text()
      .notNull()
      .references(() => person.id),
    receivedAt: timestamp({ withTimezone: true }).notNull(),
  },
  (table) => [
    check(
      'line_photo_size',
      sql`length(${table.content}) between 1 and ${sql.raw(String(mostPhotoBytes))}`,
    ),
  ],
);
