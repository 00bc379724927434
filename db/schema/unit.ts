import { sql } from 'drizzle-orm';
import {
  boolean,
  check,
  date,
  doublePrecision,
  index,
  integer,
  pgTable,
  text,
} from 'drizzle-orm/pg-core';
import { distanceUnits } from '@/lib/measure';
import { oneOf } from './one-of';
import { shed } from './shed';

/** One vehicle. The build date has the precision of its label: month, or day where it is known. */
export const unit = pgTable(
  'unit',
  {
    id: text().primaryKey(),
    shedId: text()
      .notNull()
      .references(() => shed.id),
    vin: text().unique(),
    /** Built for a market whose law asks for the check digit of the VIN. */
    isCheckDigitRequired: boolean().notNull().default(true),
    make: text(),
    model: text(),
    modelYear: integer(),
    body: text({ enum: ['pickup', 'SUV', 'van', 'other'] }).notNull(),
    engine: text(),
    builtYear: integer(),
    builtMonth: integer(),
    builtDay: integer(),
    gvwrKg: doublePrecision(),
    tireSize: text(),
    odometerUnit: text({ enum: distanceUnits }).notNull(),
    trackedFrom: date().notNull(),
    laidUpOn: date(),
    leftFleetOn: date(),
  },
  (table) => [
    index('unit_shed').on(table.shedId),
    // Finds by first figures, whatever the collation of the database.
    index('unit_first_figures').on(table.id.op('text_pattern_ops')),
    check('unit_id', sql`${table.id} ~ '^[A-Z0-9][A-Z0-9-]{0,15}$'`),
    check('unit_vin', sql`${table.vin} ~ '^[A-HJ-NPR-Z0-9]{17}$'`),
    check('unit_model_year', sql`${table.modelYear} between 1980 and 2100`),
    check('unit_odometer_unit', oneOf(table.odometerUnit, distanceUnits)),
    check('unit_built_year', sql`${table.builtYear} between 1960 and 2100`),
    check('unit_built_month', sql`${table.builtMonth} between 1 and 12`),
    check('unit_built_day', sql`${table.builtDay} between 1 and 31`),
    check(
      'unit_built_precision',
      sql`(${table.builtMonth} is null or ${table.builtYear} is not null) and (${table.builtDay} is null or ${table.builtMonth} is not null)`,
    ),
    check('unit_gvwr', sql`${table.gvwrKg} > 0`),
  ],
);
