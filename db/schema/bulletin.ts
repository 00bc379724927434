import { sql } from 'drizzle-orm';
import {
  type AnyPgColumn,
  boolean,
  check,
  customType,
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
import { oneOf } from './one-of';
import { person } from './person';

const bytes = customType<{ data: Uint8Array }>({ dataType: () => 'bytea' });

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
    requiredPart: text(),
    requiredRevision: text(),
    source: text().notNull(),
    attachmentName: text(),
    attachment: bytes(),
    enteredBy: text().references(() => person.id),
    enteredAt: timestamp({ withTimezone: true }).notNull(),
    /** A do-not-drive bulletin opens spells only once a safety officer has approved it. */
    approvedBy: text().references(() => person.id),
    approvedAt: timestamp({ withTimezone: true }),
  },
  (table) => [
    unique('bulletin_number_issue').on(table.number, table.issue),
    check('bulletin_kind', oneOf(table.kind, bulletinKinds)),
    check('bulletin_due', sql`${table.kind} <> 'mandatory' or ${table.dueOn} is not null`),
    check('bulletin_hours', sql`${table.hours} >= 0 and ${table.hours} < 200`),
    check(
      'bulletin_attachment',
      sql`(${table.attachment} is null) = (${table.attachmentName} is null)`,
    ),
  ],
);
