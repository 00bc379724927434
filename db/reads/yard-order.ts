import { type SQL, sql } from 'drizzle-orm';
import { marks } from '@/lib/analysis/assessment';
import { dayFromIso } from '@/lib/calendar';
import type { YardSort } from '@/lib/intake/yard-query';
import { shed, unit, verdict } from '../schema';
import { markOnShow } from './yard-filter';

interface Key {
  /** Never null, so that rows compare. */
  readonly expression: SQL;
  /** What an index holds; the same order where what is missing comes last. */
  readonly column: SQL;
  readonly type: 'date' | 'float8' | 'int' | 'text';
}

/** What is missing sorts last in both directions. */
const date = (column: SQL, isDescending: boolean): Key => ({
  column,
  expression: sql`coalesce(${column}, ${isDescending ? sql`'-infinity'::date` : sql`'infinity'::date`})`,
  type: 'date',
});

const rank = sql`case ${markOnShow} ${sql.join(
  marks.map((mark, index) => sql`when ${sql.raw(`'${mark}'`)} then ${sql.raw(String(index))}`),
  sql` `,
)} else ${sql.raw(String(marks.length))} end`;

const textKey = (column: SQL): Key => ({ expression: column, column, type: 'text' });

function keysOf(sort: YardSort, isDescending: boolean, unitId: SQL): readonly Key[] {
  const unitKey = textKey(unitId);
  const edge = date(sql`${verdict.earliestEdgeOn}`, isDescending);
  switch (sort) {
    case 'edge':
      return [edge, unitKey];
    case 'mark':
      return [{ expression: rank, column: rank, type: 'int' }, edge, unitKey];
    case 'unit':
      return [unitKey];
    case 'shed':
      return [textKey(sql`${shed.name}`), unitKey];
    case 'read':
      return [date(sql`${verdict.latestReadOn}`, isDescending), unitKey];
    case 'idle':
      return [
        {
          expression: sql`coalesce(${verdict.latestIdleKpa}, ${isDescending ? sql`'-infinity'::float8` : sql`'infinity'::float8`})`,
          column: sql`${verdict.latestIdleKpa}`,
          type: 'float8',
        },
        unitKey,
      ];
  }
}

/** Place of a row in an order: the values of its keys as text. */
export type YardCursor = readonly string[];

export interface YardOrder {
  readonly orderBy: SQL;
  /** Selects a row's cursor. */
  readonly cursor: SQL<YardCursor>;
  /** Rows after a cursor, in this order. */
  readonly after: (cursor: YardCursor) => SQL;
  /** Rows before it. */
  readonly before: (cursor: YardCursor) => SQL;
  readonly accepts: (cursor: YardCursor) => boolean;
}

/** One total order: every key is filled, the last one is the unit, and all run the same way. */
export function yardOrder(
  sort: YardSort,
  isDescending: boolean,
  unitId: SQL = sql`${unit.id}`,
): YardOrder {
  const keys = keysOf(sort, isDescending, unitId);
  const all = sql.join(
    keys.map(({ expression }) => expression),
    sql`, `,
  );
  const valuesOf = (cursor: YardCursor) =>
    sql.join(
      keys.map(({ type }, index) => sql`${cursor[index]}::${sql.raw(type)}`),
      sql`, `,
    );
  const direction = sql.raw(isDescending ? 'desc' : 'asc');
  return {
    orderBy: sql.join(
      keys.map(({ column }) => sql`${column} ${direction} nulls last`),
      sql`, `,
    ),
    cursor: sql<YardCursor>`json_build_array(${sql.join(
      keys.map(({ expression }) => sql`(${expression})::text`),
      sql`, `,
    )})`,
    after: (cursor) => sql`(${all}) ${sql.raw(isDescending ? '<' : '>')} (${valuesOf(cursor)})`,
    before: (cursor) => sql`(${all}) ${sql.raw(isDescending ? '>' : '<')} (${valuesOf(cursor)})`,
    accepts: (cursor) =>
      cursor.length === keys.length && keys.every(({ type }, at) => isOfType(type, cursor[at])),
  };
}

function isOfType(type: Key['type'], value: string | undefined): boolean {
  if (value === undefined || value.includes('\u0000')) return false;
  if (type === 'text') return true;
  if (type === 'date') return /^-?infinity$/.test(value) || dayFromIso(value) !== null;
  if (type === 'int') return /^\d{1,3}$/.test(value);
  return /^-?Infinity$/.test(value) || (value.trim() !== '' && Number.isFinite(Number(value)));
}
