import { sql } from 'drizzle-orm';
import {
  bigint,
  boolean,
  check,
  date,
  doublePrecision,
  index,
  integer,
  jsonb,
  pgTable,
  text,
  timestamp,
  uniqueIndex,
  uuid,
} from 'drizzle-orm/pg-core';
import { marks } from '@/lib/analysis/assessment';
import type { UnitAssessment, WearForecast } from '@/lib/analysis/unit-assessment';
import { fleetPrior } from './fleet-prior';
import { limitSet } from './limit-set';
import { oneOf } from './one-of';
import { unit } from './unit';

/** A unit's verdict as stored: pages read it and never recompute. One current row a unit. */
export const verdict = pgTable(
  'verdict',
  {
    id: uuid().primaryKey().defaultRandom(),
    unitId: text()
      .notNull()
      .references(() => unit.id),
    isCurrent: boolean().notNull(),
    /** Null for a unit laid up or gone: a dated fact, no mark. */
    mark: text({ enum: marks }),
    asOf: date().notNull(),
    /** The last ledger entry that this verdict knew of. */
    knownTo: bigint({ mode: 'number' }).notNull(),
    limitsVersion: integer()
      .notNull()
      .references(() => limitSet.version),
    fleetPriorId: integer().references(() => fleetPrior.id),
    methodVersion: text().notNull(),
    assessment: jsonb().$type<UnitAssessment>().notNull(),
    judgedAt: timestamp({ withTimezone: true }).notNull(),
    /** What the yard sorts and filters by, out of the assessment. */
    earliestEdgeOn: date(),
    why: text().notNull(),
    latestIdleKpa: doublePrecision(),
    latestReadOn: date(),
    score: doublePrecision(),
    /** What the plan and the rounds ask of every unit, without unpacking its assessment. */
    horizonProbability: doublePrecision(),
    wear: jsonb().$type<WearForecast>(),
    readingDueOn: date(),
    /** When the belt meets its limit: the middle and the ends of the 80% interval. */
    beltEarliestOn: date(),
    beltDueOn: date(),
    beltLatestOn: date(),
  },
  (table) => [
    uniqueIndex('verdict_current').on(table.unitId).where(sql`${table.isCurrent}`),
    // Holds all that the yard, the rounds and the parts ask of every unit: they never read the assessments.
    index('verdict_current_yard')
      .on(
        table.mark,
        table.earliestEdgeOn,
        table.unitId,
        table.latestIdleKpa,
        table.latestReadOn,
        table.readingDueOn,
        table.horizonProbability,
      )
      .where(sql`${table.isCurrent}`),
    index('verdict_current_edge')
      .on(table.earliestEdgeOn, table.unitId, table.mark)
      .where(sql`${table.isCurrent}`),
    // All that the parts ask of belts.
    index('verdict_current_belt')
      .on(
        table.beltEarliestOn,
        table.beltDueOn,
        table.beltLatestOn,
        table.unitId,
        table.latestReadOn,
        table.mark,
      )
      .where(sql`${table.isCurrent}`),
    index('verdict_unit_judged_at').on(table.unitId, table.judgedAt),
    check('verdict_mark', oneOf(table.mark, marks)),
  ],
);
