import { sql } from 'drizzle-orm';
import {
  check,
  doublePrecision,
  index,
  integer,
  pgTable,
  text,
  timestamp,
  uuid,
} from 'drizzle-orm/pg-core';
import { bulletin } from './bulletin';
import { oneOf } from './one-of';
import { person } from './person';
import { workOrder } from './work-order';

export const taskKinds = [
  'pump',
  'belt',
  'booster and line',
  'line',
  'check valve',
  'leak search',
  'bulletin',
  'reading',
  'proof',
] as const;
export type TaskKind = (typeof taskKinds)[number];
export const taskStates = ['open', 'done', 'struck'] as const;

export const workTask = pgTable(
  'work_task',
  {
    id: uuid().primaryKey().defaultRandom(),
    workOrderId: uuid()
      .notNull()
      .references(() => workOrder.id, { onDelete: 'cascade' }),
    position: integer().notNull(),
    kind: text({ enum: taskKinds }).notNull(),
    title: text().notNull(),
    hours: doublePrecision().notNull(),
    state: text({ enum: taskStates }).notNull().default('open'),
    struckWhy: text(),
    partNumber: text(),
    partRevision: text(),
    torqueNm: doublePrecision(),
    bulletinId: uuid().references(() => bulletin.id),
    doneBy: text().references(() => person.id),
    doneAt: timestamp({ withTimezone: true }),
  },
  (table) => [
    index('work_task_work_order').on(table.workOrderId),
    index('work_task_bulletin').on(table.bulletinId),
    // The plan asks for the open ones, a tenth of all.
    index('work_task_open').on(table.workOrderId).where(sql`${table.state} = 'open'`),
    check('work_task_kind', oneOf(table.kind, taskKinds)),
    check('work_task_state', oneOf(table.state, taskStates)),
    check('work_task_hours', sql`${table.hours} >= 0 and ${table.hours} < 200`),
    check('work_task_struck', sql`(${table.state} = 'struck') = (${table.struckWhy} is not null)`),
  ],
);
