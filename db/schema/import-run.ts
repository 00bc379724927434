import { sql } from 'drizzle-orm';
import {
  bigint,
  boolean,
  check,
  customType,
  index,
  integer,
  jsonb,
  pgTable,
  primaryKey,
  text,
  timestamp,
  uuid,
} from 'drizzle-orm/pg-core';
import type { ColumnMapping } from '@/lib/intake/import/column-mapping';
import { importKinds } from '@/lib/intake/import/import-fields';
import type { Problem } from '@/lib/result';
import { oneOf } from './one-of';
import { person } from './person';
import { unit } from './unit';

const bytes = customType<{ data: Uint8Array }>({ dataType: () => 'bytea' });

export const importStates = ['sending', 'checking', 'checked', 'done', 'cancelled'] as const;
export const importOutcomes = ['new', 'changed', 'on record', 'refused'] as const;
export type ImportOutcome = (typeof importOutcomes)[number];
export type ImportCounts = Readonly<Record<ImportOutcome | 'odd', number>>;

/** How far an import is that is being put on record. */
export interface PutProgress {
  readonly done: number;
  readonly total: number;
}

/** One file on its way into the record. Any instance can go on with what another began. */
export const importRun = pgTable(
  'import_run',
  {
    id: uuid().primaryKey(),
    kind: text({ enum: importKinds }).notNull(),
    fileName: text().notNull(),
    byteCount: bigint({ mode: 'number' }).notNull(),
    state: text({ enum: importStates }).notNull(),
    /** Names of the columns, once the file has been looked into. */
    header: jsonb().$type<readonly string[]>(),
    mapping: jsonb().$type<ColumnMapping>(),
    rowsRead: integer().notNull().default(0),
    counts: jsonb().$type<ImportCounts>(),
    /** SHA-256 over the digests of the rows to go on record, in the order of their lines. */
    rowsDigest: text(),
    /** What is wrong with the file as a whole. */
    faults: jsonb().$type<readonly Problem[]>().notNull().default([]),
    madeBy: text()
      .notNull()
      .references(() => person.id),
    madeAt: timestamp({ withTimezone: true }).notNull(),
    /** Last sign of life while being checked. */
    progressAt: timestamp({ withTimezone: true }).notNull(),
    /** Of the newest try to put it on record, which may be under way or have been killed. */
    putProgress: jsonb().$type<PutProgress>(),
    ledgerEntry: bigint({ mode: 'number' }),
  },
  (table) => [
    index('import_run_made_at').on(table.madeAt),
    check('import_run_state', oneOf(table.state, importStates)),
    check('import_run_kind', oneOf(table.kind, importKinds)),
    check('import_run_done', sql`(${table.state} = 'done') = (${table.ledgerEntry} is not null)`),
  ],
);

/** The file as it was sent, in pieces; gone once the import is done or cancelled. */
export const importPiece = pgTable(
  'import_piece',
  {
    importId: uuid()
      .notNull()
      .references(() => importRun.id, { onDelete: 'cascade' }),
    position: integer().notNull(),
    bytes: bytes().notNull(),
  },
  (table) => [primaryKey({ columns: [table.importId, table.position] })],
);

/**
 * A row as the check found it. Refused ones are kept with their cells, for the file of refusals.
 * Unlogged and without a foreign key: half a million rows pass through it, and can be read again
 * from the file.
 */
export const importRow = pgTable(
  'import_row',
  {
    importId: uuid().notNull(),
    line: integer().notNull(),
    outcome: text({ enum: importOutcomes }).notNull(),
    /** Columns of the table that it goes to; those of a reading lie in `import_reading`. */
    row: jsonb().$type<Readonly<Record<string, unknown>>>(),
    cells: jsonb().$type<readonly string[]>(),
    problems: jsonb().$type<readonly Problem[]>(),
  },
  (table) => [primaryKey({ columns: [table.importId, table.line] })],
);

/** How the columns of a file with this header were last read. */
export const importMapping = pgTable(
  'import_mapping',
  {
    kind: text({ enum: [...importKinds, 'bulletins'] }).notNull(),
    headerDigest: text().notNull(),
    mapping: jsonb().$type<ColumnMapping>().notNull(),
    changedAt: timestamp({ withTimezone: true }).notNull(),
  },
  (table) => [primaryKey({ columns: [table.kind, table.headerDigest] })],
);

/**
 * Facts that a change may have touched: a bulletin that asks for none of them is left alone. Where it
 * touched nothing of the unit itself, a bulletin asks other things of it.
 */
export const touchedFacts = ['any', 'readings', 'parts', 'age', 'nothing'] as const;
export type TouchedFacts = (typeof touchedFacts)[number];

/** Units whose verdict or bulletins do not know yet what the record says: the sweep judges them. */
export const judgingDue = pgTable(
  'judging_due',
  {
    unitId: text()
      .primaryKey()
      .references(() => unit.id),
    since: timestamp({ withTimezone: true }).notNull(),
    touched: text({ enum: touchedFacts }).notNull().default('age'),
    /** The record was wrong before: bulletins that are open may close again. */
    isCorrection: boolean().notNull().default(false),
  },
  (table) => [check('judging_due_touched', oneOf(table.touched, touchedFacts))],
);
