import { and, eq, sql } from 'drizzle-orm';
import type { Problem } from '@/lib/result';
import type { Db, Tx } from '../client';
import { importRun, type PutProgress } from '../schema';

/** Any constant will do, as long as every instance asks for the same one. */
const putLock = 74_120_313;

/**
 * Holds an import until the transaction that puts it on record ends, well or not: a killed instance
 * holds nothing. False where another transaction holds it.
 */
export async function holdWhilePut(tx: Tx, importId: string): Promise<boolean> {
  const answer = await tx.execute(
    sql`select pg_try_advisory_xact_lock(${putLock}::int, hashtext(${importId})) as held`,
  );
  return (answer as unknown as { readonly rows: readonly [{ readonly held: boolean }] }).rows[0]
    .held;
}

/** Whether a transaction, of any instance, is putting an import on record now. */
export async function isBeingPut(db: Db, importId: string): Promise<boolean> {
  const answer = await db.execute(sql`
    select from pg_locks where locktype = 'advisory' and classid = ${putLock} and objsubid = 2
      and objid = (hashtext(${importId})::bigint & 4294967295)::oid
      and database = (select oid from pg_database where datname = current_database())`);
  return (answer as unknown as { readonly rows: readonly unknown[] }).rows.length > 0;
}

/** Notes how far it is, beside its transaction, for whoever looks at it. */
export async function notePutProgress(
  db: Db,
  importId: string,
  putProgress: PutProgress,
): Promise<void> {
  await db.update(importRun).set({ putProgress, faults: [] }).where(eq(importRun.id, importId));
}

/** Notes why it could not be put on record. */
export async function notePutFault(db: Db, importId: string, fault: Problem): Promise<void> {
  await db
    .update(importRun)
    .set({ faults: [fault] })
    .where(and(eq(importRun.id, importId), eq(importRun.state, 'checked')));
}
