import { sql } from 'drizzle-orm';
import { check, index, jsonb, pgTable, text, timestamp, uuid } from 'drizzle-orm/pg-core';
import { person } from './person';
import { type Keyed, reading } from './reading';

/** New values by column of `reading`; a column left out keeps its value. */
export type AmendedValues = Partial<
  Pick<
    typeof reading.$inferSelect,
    | 'idleVacuumKpa'
    | 'raisedVacuumKpa'
    | 'lowestKpa'
    | 'recoveryS'
    | 'holdLossKpa'
    | 'holdTimeS'
    | 'line'
    | 'pedal'
    | 'belt'
    | 'barometerKpa'
    | 'odometerKm'
    | 'note'
  >
>;

/** A correction that never hides the first value. Approved ones apply in the order of approval. */
export const amendment = pgTable(
  'amendment',
  {
    id: uuid().primaryKey(),
    readingId: uuid()
      .notNull()
      .references(() => reading.id),
    before: jsonb().$type<AmendedValues>().notNull(),
    after: jsonb().$type<AmendedValues>().notNull(),
    keyed: jsonb().$type<Keyed>().notNull(),
    reason: text().notNull(),
    state: text({ enum: ['asked', 'approved', 'refused'] }).notNull(),
    madeBy: text()
      .notNull()
      .references(() => person.id),
    madeAt: timestamp({ withTimezone: true }).notNull(),
    decidedBy: text().references(() => person.id),
    decidedAt: timestamp({ withTimezone: true }),
  },
  (table) => [
    index('amendment_reading').on(table.readingId),
    check('amendment_reason', sql`length(trim(${table.reason})) > 0`),
    check('amendment_state', sql`${table.state} in ('asked', 'approved', 'refused')`),
    check('amendment_decided', sql`(${table.state} = 'asked') = (${table.decidedAt} is null)`),
  ],
);
