import { sql } from 'drizzle-orm';
import {
  bigserial,
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
  uuid,
} from 'drizzle-orm/pg-core';
import { beltStates, lineStates, pedalStates } from '@/lib/analysis/reading';
import type { TraceOfReading } from '@/lib/intake/reading-payload';
import { gauge } from './gauge';
import { oneOf } from './one-of';
import { person } from './person';
import { shed } from './shed';
import { unit } from './unit';
import { workOrder } from './work-order';

/** What the person keyed, before conversion: value and unit of measure by field. */
export type Keyed = Partial<Record<string, { value: string; unit: string | null; from?: 'trace' }>>;

/**
 * One visit's measurements, as first recorded: never changed. Amendments lie beside it.
 * `id` is made by the device, so that a reading sent any number of times is recorded once.
 */
export const reading = pgTable(
  'reading',
  {
    id: uuid().primaryKey(),
    entry: bigserial({ mode: 'number' }).notNull().unique(),
    unitId: text()
      .notNull()
      .references(() => unit.id),
    shedId: text()
      .notNull()
      .references(() => shed.id),
    technicianId: text().references(() => person.id),
    /** As imported, for a technician who is no person of this fleet. */
    technicianLabel: text(),
    gaugeId: text().references(() => gauge.id),
    readOn: date().notNull(),
    readAt: timestamp({ withTimezone: true }).notNull(),
    receivedAt: timestamp({ withTimezone: true }).notNull(),
    clockSkewS: doublePrecision(),
    idleVacuumKpa: doublePrecision(),
    raisedVacuumKpa: doublePrecision(),
    lowestKpa: doublePrecision(),
    recoveryS: doublePrecision(),
    isRecoveryKeyed: boolean().notNull().default(false),
    holdLossKpa: doublePrecision(),
    holdTimeS: doublePrecision(),
    line: text({ enum: lineStates }).notNull(),
    pedal: text({ enum: pedalStates }),
    belt: text({ enum: beltStates }),
    barometerKpa: doublePrecision(),
    odometerKm: doublePrecision(),
    isClipTugged: boolean(),
    couldNot: jsonb().$type<Record<string, string>>().notNull().default({}),
    keyed: jsonb().$type<Keyed>().notNull().default({}),
    note: text(),
    isProof: boolean().notNull().default(false),
    workOrderId: uuid().references(() => workOrder.id),
    source: text({ enum: ['bay card', 'form', 'import', 'api', 'demo'] }).notNull(),
    /** What the device judged before the server did. */
    deviceCall: jsonb().$type<{ mark: string; heardFromDeskOn: string | null } | null>(),
    /** What a logging gauge's trace told beyond the figures it filled. */
    trace: jsonb().$type<TraceOfReading | null>(),
    payloadVersion: integer().notNull().default(1),
    payloadDigest: text().notNull(),
  },
  (table) => [
    index('reading_unit_read_on').on(table.unitId, table.readOn),
    check('reading_line', oneOf(table.line, lineStates)),
    check('reading_pedal', oneOf(table.pedal, pedalStates)),
    check('reading_belt', oneOf(table.belt, beltStates)),
    check('reading_idle', sql`${table.idleVacuumKpa} >= 0 and ${table.idleVacuumKpa} <= 110`),
    check('reading_raised', sql`${table.raisedVacuumKpa} >= 0 and ${table.raisedVacuumKpa} <= 110`),
    check('reading_lowest', sql`${table.lowestKpa} >= 0 and ${table.lowestKpa} <= 110`),
    check('reading_recovery', sql`${table.recoveryS} >= 0 and ${table.recoveryS} <= 600`),
    check('reading_hold_loss', sql`${table.holdLossKpa} >= 0 and ${table.holdLossKpa} <= 110`),
    check('reading_hold_time', sql`${table.holdTimeS} > 0 and ${table.holdTimeS} <= 3600`),
    check('reading_barometer', sql`${table.barometerKpa} between 45 and 110`),
    check('reading_odometer', sql`${table.odometerKm} >= 0 and ${table.odometerKm} < 10000000`),
    check(
      'reading_who',
      sql`${table.technicianId} is not null or ${table.technicianLabel} is not null`,
    ),
  ],
);
