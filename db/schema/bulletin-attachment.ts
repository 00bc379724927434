import { sql } from 'drizzle-orm';
import { check, customType, pgTable, text, timestamp, uuid } from 'drizzle-orm/pg-core';
import { mostAttachmentBytes } from '@/lib/intake/attached-pdf';
import { bulletin } from './bulletin';
import { person } from './person';

const bytes = customType<{ data: Uint8Array }>({ dataType: () => 'bytea' });

/** The notice as its issuer printed it. Its digest is on the ledger. */
export const bulletinAttachment = pgTable(
  'bulletin_attachment',
  {
    bulletinId: uuid()
      .primaryKey()
      .references(() => bulletin.id),
    name: text().notNull(),
    content: bytes().notNull(),
    digest: text().notNull(),
    attachedBy: text()
      .notNull()
      .references(() => person.id),
    attachedAt: timestamp({ withTimezone: true }).notNull(),
  },
  (table) => [
    check(
      'bulletin_attachment_size',
      sql`length(${table.content}) between 1 and ${sql.raw(String(mostAttachmentBytes))}`,
    ),
  ],
);
