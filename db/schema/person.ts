import { sql } from 'drizzle-orm';
import { boolean, check, pgTable, primaryKey, text, timestamp } from 'drizzle-orm/pg-core';
import { roles } from '@/lib/access';
import { distanceUnits, pressureUnits } from '@/lib/measure';
import { oneOf } from './one-of';
import { shed } from './shed';

/** A person who signs; also the sign-in library's user. One role a person. */
export const person = pgTable(
  'person',
  {
    id: text().primaryKey(),
    name: text().notNull(),
    email: text().notNull().unique(),
    emailVerified: boolean().notNull().default(false),
    image: text(),
    createdAt: timestamp({ withTimezone: true }).notNull().defaultNow(),
    updatedAt: timestamp({ withTimezone: true }).notNull().defaultNow(),
    badge: text().notNull().unique(),
    role: text({ enum: roles }).notNull(),
    roleSince: timestamp({ withTimezone: true }).notNull().defaultNow(),
    isActive: boolean().notNull().default(true),
    isOutsideCertifier: boolean().notNull().default(false),
    pressureUnit: text({ enum: pressureUnits }),
    distanceUnit: text({ enum: distanceUnits }),
  },
  (table) => [
    check('person_role', oneOf(table.role, roles)),
    check('person_name', sql`length(trim(${table.name})) > 0`),
  ],
);

export const personShed = pgTable(
  'person_shed',
  {
    personId: text()
      .notNull()
      .references(() => person.id, { onDelete: 'cascade' }),
    shedId: text()
      .notNull()
      .references(() => shed.id),
  },
  (table) => [primaryKey({ columns: [table.personId, table.shedId] })],
);
