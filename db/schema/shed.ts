import { sql } from 'drizzle-orm';
import { check, doublePrecision, pgTable, text } from 'drizzle-orm/pg-core';
import { distanceUnits, pressureUnits } from '@/lib/measure';
import { oneOf } from './one-of';

export const shed = pgTable(
  'shed',
  {
    id: text().primaryKey(),
    name: text().notNull().unique(),
    elevationM: doublePrecision().notNull(),
    timeZone: text().notNull(),
    pressureUnit: text({ enum: pressureUnits }).notNull(),
    distanceUnit: text({ enum: distanceUnits }).notNull(),
    bayHoursPerWeek: doublePrecision().notNull(),
  },
  (table) => [
    check('shed_elevation', sql`${table.elevationM} between -450 and 5000`),
    check('shed_pressure_unit', oneOf(table.pressureUnit, pressureUnits)),
    check('shed_distance_unit', oneOf(table.distanceUnit, distanceUnits)),
    check('shed_bay_hours', sql`${table.bayHoursPerWeek} between 0 and 10000`),
  ],
);
