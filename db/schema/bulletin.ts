import { sql } from 'drizzle-orm';
import {
  type AnyPgColumn,
  boolean,
  check,
  date,
  doublePrecision,
  jsonb,
  pgTable,
  text,
  timestamp,
  unique,
  uuid,
} from 'drizzle-orm/pg-core';
import { bulletinKinds } from '@/lib/bulletins/bulletin-state';
import type { RequiredPart } from '@/lib/bulletins/required-parts';
import { oneOf } from './one-of';
import { person } from './person';

/** A notice and the builds that it covers. `rule` is parsed by lib/bulletins on the way in and out. */
export const bulletin = pgTable(
  'bulletin',
  {
    id: uuid().primaryKey().defaultRandom(),
    number: text().notNull(),
    issue: text().notNull(),
    title: text().notNull(),
    issuedOn: date().notNull(),
    kind: text({ enum: bulletinKinds }).notNull(),
    dueOn: date(),
    supersedesId: uuid().references((): AnyPgColumn => bulletin.id),
    doesDoneCarry: boolean().notNull().default(false),
    rule: jsonb().$type<unknown>().notNull(),
    conditions: text().notNull(),
    actions: text().notNull(),
    hours: doublePrecision().notNull(),
    requiredParts: jsonb().$type<readonly RequiredPart[]>().notNull().default([]),
    source: text().notNull(),
    enteredBy: text().references(() => person.id),
    enteredAt: timestamp({ withTimezone: true }).notNull(),
    /** A do-not-drive bulletin opens spells only once a safety officer has approved it. */
    approvedBy: text().references(() => person.id),
    approvedAt: timestamp({ withTimezone: true }),
  },
  (table) => [
    unique('bulletin_number_issue').on(table.number, table.issue),
    unique('bulletin_supersedes_one').on(table.supersedesId),
    check('bulletin_kind', oneOf(table.kind, bulletinKinds)),
    check('bulletin_due', sql`${table.kind} <> 'mandatory' or ${table.dueOn} is not null`),
    check('bulletin_hours', sql`${table.hours} >= 0 and ${table.hours} < 200`),
  ],
);
