import { sql } from 'drizzle-orm';
import {
  boolean,
  check,
  index,
  jsonb,
  pgTable,
  text,
  timestamp,
  uniqueIndex,
  uuid,
} from 'drizzle-orm/pg-core';
import { bulletin } from './bulletin';
import { oneOf } from './one-of';
import { person } from './person';
import { reading } from './reading';
import { unit } from './unit';
import { workOrder } from './work-order';

export const spellCauses = [
  'reading past a stop limit',
  'hard pedal on the road',
  'oil at the booster',
  'belt off',
  'do-not-drive bulletin',
  'proof withdrawn',
  'other',
] as const;
export type SpellCause = (typeof spellCauses)[number];

/**
 * One stay out of service. The table itself keeps one open spell a unit and three people apart:
 * who certified never released nor read the proof; who read the proof releases only under the
 * small-shop setting.
 */
export const spell = pgTable(
  'spell',
  {
    id: uuid().primaryKey().defaultRandom(),
    unitId: text()
      .notNull()
      .references(() => unit.id),
    cause: text({ enum: spellCauses }).notNull(),
    why: text().notNull(),
    note: text(),
    openedAt: timestamp({ withTimezone: true }).notNull(),
    openedBy: text().references(() => person.id),
    readingId: uuid().references(() => reading.id),
    bulletinId: uuid().references(() => bulletin.id),
    wasWarned: boolean().notNull().default(false),
    tagHungBy: text().references(() => person.id),
    tagHungAt: timestamp({ withTimezone: true }),
    workOrderId: uuid().references(() => workOrder.id),
    certificate: text({ enum: ['repaired', 'repair not necessary'] }),
    certifiedBy: text().references(() => person.id),
    certifiedAt: timestamp({ withTimezone: true }),
    certifiedNote: text(),
    proofReadingId: uuid().references(() => reading.id),
    proofReadBy: text().references(() => person.id),
    releasedBy: text().references(() => person.id),
    releasedAt: timestamp({ withTimezone: true }),
    releasedNote: text(),
    isSmallShop: boolean().notNull().default(false),
    /** Late readings that joined a closed spell as evidence, to be acknowledged. */
    evidence: jsonb()
      .$type<readonly { readingId: string; acknowledgedBy: string | null }[]>()
      .notNull()
      .default([]),
  },
  (table) => [
    index('spell_unit').on(table.unitId),
    uniqueIndex('spell_one_open').on(table.unitId).where(sql`${table.releasedAt} is null`),
    check('spell_cause', oneOf(table.cause, spellCauses)),
    check(
      'spell_certified',
      sql`(${table.certifiedBy} is null) = (${table.certifiedAt} is null) and (${table.certifiedBy} is null) = (${table.certificate} is null)`,
    ),
    check('spell_certifier_releases_not', sql`${table.releasedBy} <> ${table.certifiedBy}`),
    check('spell_certifier_proves_not', sql`${table.proofReadBy} <> ${table.certifiedBy}`),
    check(
      'spell_prover_releases_not',
      sql`${table.isSmallShop} or ${table.releasedBy} <> ${table.proofReadBy}`,
    ),
    check(
      'spell_release_is_whole',
      sql`${table.releasedAt} is null or (${table.releasedBy} is not null and ${table.certifiedBy} is not null and ${table.proofReadingId} is not null and ${table.proofReadBy} is not null and ${table.certifiedAt} <= ${table.releasedAt} and ${table.openedAt} <= ${table.certifiedAt})`,
    ),
  ],
);
