import {
  date,
  doublePrecision,
  integer,
  pgTable,
  text,
  timestamp,
  uuid,
} from 'drizzle-orm/pg-core';

/**
 * A reading as the check of an import found it, in the columns of the table that it goes to. Unlogged,
 * without constraints and without indexes: half a million pass through, and can be read again from the
 * file. The constraints are tried where they go on record.
 */
export const importReading = pgTable('import_reading', {
  importId: uuid().notNull(),
  line: integer().notNull(),
  digest: text().notNull(),
  id: uuid().notNull(),
  unitId: text().notNull(),
  shedId: text().notNull(),
  technicianId: text(),
  technicianLabel: text(),
  gaugeId: text(),
  readOn: date().notNull(),
  readAt: timestamp({ withTimezone: true }).notNull(),
  idleVacuumKpa: doublePrecision(),
  raisedVacuumKpa: doublePrecision(),
  lowestKpa: doublePrecision(),
  recoveryS: doublePrecision(),
  holdLossKpa: doublePrecision(),
  holdTimeS: doublePrecision(),
  barometerKpa: doublePrecision(),
  odometerKm: doublePrecision(),
  lineState: text().notNull(),
  pedal: text(),
  belt: text(),
  note: text(),
});
