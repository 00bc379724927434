import { readFileSync } from 'node:fs';
import { getTableColumns, getTableName, is, sql } from 'drizzle-orm';
import { PgTable } from 'drizzle-orm/pg-core';
import { expect, it } from 'vitest';
import type { Tx } from '@/db/client';
import * as schema from '@/db/schema';
import { onEachDatabase } from '../support/databases';

const text = readFileSync('docs/distributed.sql', 'utf8');
const [plain = '', distributing = ''] = text.split('-- Second part');
const named = (call: string) => [...distributing.matchAll(new RegExp(`${call}\\('(\\w+)'`, 'g'))];
const references = named('create_reference_table').map(([, table = '']) => table);
const keyOf = new Map(
  [...distributing.matchAll(/create_distributed_table\('(\w+)', '(\w+)'/g)].map(
    ([, table = '', column = '']) => [table, column] as const,
  ),
);

async function rowsOf<Row>(tx: Tx, statement: ReturnType<typeof sql>): Promise<readonly Row[]> {
  return ((await tx.execute(statement)) as unknown as { readonly rows: readonly Row[] }).rows;
}

interface Unique {
  readonly table: string;
  readonly name: string;
  readonly columns: readonly string[];
}

interface Reference {
  readonly name: string;
  readonly from: string;
  readonly to: string;
  readonly own: readonly string[];
  readonly others: readonly string[];
}

const columns = (relation: string, keys: string) =>
  sql.raw(`(select json_agg(a.attname order by k.place) from unnest(${keys}) with ordinality
    k (number, place) join pg_attribute a on a.attrelid = ${relation} and a.attnum = k.number)`);

/** Unique keys, by name, that a distributed table cannot have. */
async function keysWithoutUnit(tx: Tx): Promise<readonly string[]> {
  const uniques = await rowsOf<Unique>(
    tx,
    sql`select t.relname as table, i.relname as name,
      ${columns('x.indrelid', 'x.indkey::int2[]')} as columns
      from pg_index x join pg_class t on t.oid = x.indrelid join pg_class i on i.oid = x.indexrelid
      where x.indisunique and t.relnamespace = 'public'::regnamespace`,
  );
  return uniques
    .filter(({ table, columns }) => {
      const key = keyOf.get(table);
      return key !== undefined && !columns.includes(key);
    })
    .map(({ name }) => name);
}

onEachDatabase('keys for a distributed PostgreSQL', (db) => {
  it('hold the unit wherever rows lie with it, once the statements on paper have run', async () => {
    const tried = db().transaction(async (tx) => {
      await tx.execute(sql`set local role none`);
      expect(await keysWithoutUnit(tx)).toEqual(expect.arrayContaining(['reading_pkey']));
      for (const statement of plain.replaceAll(/--.*$/gm, '').split(';')) {
        if (statement.trim() !== '') await tx.execute(sql.raw(statement));
      }
      expect(await keysWithoutUnit(tx)).toEqual([]);
      const found = await rowsOf<Reference>(
        tx,
        sql`select c.conname as name, f.relname as from, t.relname as to,
          ${columns('c.conrelid', 'c.conkey')} as own, ${columns('c.confrelid', 'c.confkey')} as others
          from pg_constraint c join pg_class f on f.oid = c.conrelid join pg_class t on t.oid = c.confrelid
          where c.contype = 'f' and f.relnamespace = 'public'::regnamespace`,
      );
      expect(found.length).toBeGreaterThan(30);
      for (const { name, from, to, own, others } of found) {
        const [key, otherKey] = [keyOf.get(from), keyOf.get(to)];
        if (key && otherKey) expect(others[own.indexOf(key)], name).toBe(otherKey);
        else if (key) expect(references, name).toContain(to);
        else expect(otherKey, `${name}, from a table on one node`).toBeUndefined();
      }
      throw new Error('put back');
    });
    await expect(tried).rejects.toThrow('put back');
  });

  it('leave no table out that names a unit, but the one chain of the ledger', () => {
    const tables = Object.values(schema).filter((value) => is(value, PgTable));
    const withUnit = tables
      .filter((table) => Object.keys(getTableColumns(table)).includes('unitId'))
      .map((table) => getTableName(table));
    expect(withUnit.filter((name) => !keyOf.has(name))).toEqual(['ledger_entry']);
  });
});
