import { type SQL, sql } from 'drizzle-orm';
import type { AnyPgColumn } from 'drizzle-orm/pg-core';

/** Of any of the texts, in one parameter: a statement holds 65,535 at most. */
export const isAnyOf = (column: AnyPgColumn | SQL, texts: readonly string[]): SQL =>
  sql`${column} = any(${sql.param(texts)}::text[])`;
