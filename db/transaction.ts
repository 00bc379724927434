import { eq } from 'drizzle-orm';
import type { Db, Tx } from './client';
import { unit } from './schema';

const retried = new Set(['40001', '40P01']);

/** SQLSTATE of a failed statement, or undefined when the error is none of the database's. */
export function sqlState(error: unknown): string | undefined {
  const cause = error instanceof Error ? (error.cause ?? error) : undefined;
  const code = cause && typeof cause === 'object' && 'code' in cause ? cause.code : undefined;
  return typeof code === 'string' ? code : undefined;
}

/** One transaction, tried again when the server broke a deadlock or a serialisation conflict. */
export async function inTransaction<Value>(
  db: Db,
  work: (tx: Tx) => Promise<Value>,
  tries = 5,
): Promise<Value> {
  try {
    return await db.transaction(work);
  } catch (error) {
    if (tries > 1 && retried.has(sqlState(error) ?? '')) return inTransaction(db, work, tries - 1);
    throw error;
  }
}

/** Locks the unit first in every write that judges it: two readings saved together would each judge without the other. */
export async function lockUnit(
  tx: Tx,
  unitId: string,
): Promise<typeof unit.$inferSelect | undefined> {
  const [row] = await tx.select().from(unit).where(eq(unit.id, unitId)).for('update');
  return row;
}
