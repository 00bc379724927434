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
  timestamp,
  uuid,
} from 'drizzle-orm/pg-core';
import { causes } from '@/lib/analysis/assessment';
import { workOrderStates } from '@/lib/work-orders/move-order';
import { oneOf } from './one-of';
import { person } from './person';
import { shed } from './shed';
import { unit } from './unit';

export const workOrder = pgTable(
  'work_order',
  {
    id: uuid().primaryKey().defaultRandom(),
    /** What people say: work order 1042. */
    number: integer().notNull().unique().generatedAlwaysAsIdentity({ startWith: 1001 }),
    unitId: text()
      .notNull()
      .references(() => unit.id),
    state: text({ enum: workOrderStates }).notNull(),
    why: text().notNull(),
    raisedFrom: text({ enum: ['verdict', 'belt', 'bulletin', 'spell', 'by hand'] }).notNull(),
    raisedBy: text().references(() => person.id),
    raisedAt: timestamp({ withTimezone: true }).notNull(),
    wantedBy: date(),
    shedId: text().references(() => shed.id),
    /** ISO week in which it is placed. */
    week: text(),
    isPinned: boolean().notNull().default(false),
    /** Why a person put it into a week that it overfills; null where the week has room. */
    overfilledWhy: text(),
    waitingFor: text(),
    waitingUntil: date(),
    begunBy: text().references(() => person.id),
    begunAt: timestamp({ withTimezone: true }),
    finishedBy: text().references(() => person.id),
    finishedAt: timestamp({ withTimezone: true }),
    finishedOdometerKm: doublePrecision(),
    foundCause: text({ enum: causes }),
    predictedCause: text({ enum: causes }),
    closedAt: timestamp({ withTimezone: true }),
    withdrawnBy: text().references(() => person.id),
    withdrawnWhy: text(),
    /** Rises with every change; a writer that saw an older one is refused. */
    version: integer().notNull().default(1),
  },
  (table) => [
    index('work_order_unit').on(table.unitId),
    index('work_order_week').on(table.week, table.shedId),
    index('work_order_state').on(table.state),
    check('work_order_state_name', oneOf(table.state, workOrderStates)),
    check('work_order_week_form', sql`${table.week} ~ '^[0-9]{4}-W[0-9]{2}$'`),
    check(
      'work_order_placed',
      sql`${table.state} <> 'placed' or (${table.week} is not null and ${table.shedId} is not null)`,
    ),
    check(
      'work_order_waiting',
      sql`${table.state} <> 'waiting' or ${table.waitingFor} is not null`,
    ),
    check(
      'work_order_finished',
      sql`${table.state} not in ('finished', 'closed') or (${table.finishedBy} is not null and ${table.finishedAt} is not null)`,
    ),
    check(
      'work_order_withdrawn',
      sql`(${table.state} = 'withdrawn') = (${table.withdrawnWhy} is not null)`,
    ),
  ],
);
