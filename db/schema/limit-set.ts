import { sql } from 'drizzle-orm';
import {
  check,
  date,
  integer,
  jsonb,
  pgTable,
  text,
  timestamp,
  uniqueIndex,
} from 'drizzle-orm/pg-core';
import type { Limits } from '@/lib/analysis/limits';
import { person } from './person';

/** Dated sets of limits. Proposed by one person, approved by another; old verdicts keep theirs. */
export const limitSet = pgTable(
  'limit_set',
  {
    version: integer().primaryKey(),
    values: jsonb().$type<Omit<Limits, 'version'>>().notNull(),
    effectiveFrom: date().notNull(),
    source: text().notNull(),
    reason: text().notNull(),
    state: text({ enum: ['proposed', 'approved', 'refused'] }).notNull(),
    proposedBy: text().references(() => person.id),
    proposedAt: timestamp({ withTimezone: true }).notNull(),
    decidedBy: text().references(() => person.id),
    decidedAt: timestamp({ withTimezone: true }),
  },
  (table) => [
    check('limit_set_state', sql`${table.state} in ('proposed', 'approved', 'refused')`),
    check('limit_set_two_people', sql`${table.decidedBy} <> ${table.proposedBy}`),
    check(
      'limit_set_decided',
      sql`${table.version} = 0 or (${table.state} = 'proposed') = (${table.decidedBy} is null)`,
    ),
    uniqueIndex('limit_set_one_proposal').on(table.state).where(sql`${table.state} = 'proposed'`),
  ],
);
