import { boolean, date, pgTable, text } from 'drizzle-orm/pg-core';
import { pressureUnits } from '@/lib/measure';
import { shed } from './shed';

export const gauge = pgTable('gauge', {
  id: text().primaryKey(),
  shedId: text()
    .notNull()
    .references(() => shed.id),
  label: text().notNull(),
  pressureUnit: text({ enum: pressureUnits }).notNull(),
  isLogging: boolean().notNull().default(false),
  calibrationDueOn: date(),
  retiredOn: date(),
});
