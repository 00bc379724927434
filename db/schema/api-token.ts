import { sql } from 'drizzle-orm';
import { check, index, pgTable, text, timestamp, uuid } from 'drizzle-orm/pg-core';
import { apiScopes } from '@/lib/api-scopes';
import { person } from './person';

/** Lets a program act for a person, within scopes. Of the token itself only a digest is kept. */
export const apiToken = pgTable(
  'api_token',
  {
    id: uuid().primaryKey(),
    /** What uses it, in the fleet's words. */
    label: text().notNull(),
    digest: text().notNull().unique(),
    scopes: text({ enum: apiScopes }).array().notNull(),
    personId: text()
      .notNull()
      .references(() => person.id),
    madeBy: text()
      .notNull()
      .references(() => person.id),
    madeAt: timestamp({ withTimezone: true }).notNull(),
    expiresAt: timestamp({ withTimezone: true }).notNull(),
    revokedAt: timestamp({ withTimezone: true }),
  },
  (table) => [
    index('api_token_person').on(table.personId),
    check('api_token_label', sql`length(trim(${table.label})) between 1 and 60`),
    check('api_token_scopes', sql`cardinality(${table.scopes}) > 0`),
  ],
);
