import { doublePrecision, integer, jsonb, pgTable, timestamp } from 'drizzle-orm/pg-core';
import type { FleetPrior } from '@/lib/analysis/fleet-prior';

/** What the fleet's own readings taught, by the night that it was learnt. */
export const fleetPrior = pgTable('fleet_prior', {
  id: integer().primaryKey().generatedAlwaysAsIdentity(),
  learntAt: timestamp({ withTimezone: true }).notNull(),
  segmentCount: integer().notNull(),
  prior: jsonb().$type<FleetPrior>().notNull(),
  /** Kilometres a day of the fleet's middle unit; null while no unit has a history. */
  kilometresADay: doublePrecision(),
});
