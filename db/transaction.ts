import { eq, sql } from 'drizzle-orm';
import type { Db, Tx } from './client';
import { unit } from './schema';

const retried = new Set(['40001', '40P01']);

/** SQLSTATE of a failed statement, or undefined when the error is none of the database's. */
export function sqlState(error: unknown): string | undefined {
  const cause = error instanceof Error ? (error.cause ?? error) : undefined;
  const code = cause && typeof cause === 'object' && 'code' in cause ? cause.code : undefined;
  return typeof code === 'string' ? code : undefined;
}

/** SQLSTATE classes of a server that cannot serve: connection, resources, operator, system, read-only. */
const outOfReach = /^(08|25006|53|57|58)/;
/** How the driver says, without a state, that it got no connection or lost the one it had. */
const noConnection =
  /ECONNREFUSED|ECONNRESET|EPIPE|timeout exceeded when trying to connect|connection terminated|connection timeout|server closed the connection/i;

/** Whether the database could not be asked, so that the same may be asked again; nothing was stored. */
export function isOutOfReach(error: unknown): boolean {
  const state = sqlState(error);
  if (state !== undefined && outOfReach.test(state)) return true;
  if (!(error instanceof Error)) return false;
  const cause = error.cause instanceof Error ? error.cause : error;
  return noConnection.test(`${state ?? ''} ${cause.message}`);
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

/**
 * Locks every unit at once, for a write that may judge any of them: nobody else may lock one, change
 * one or write about one meanwhile; reading goes on. One lock on the table, since 50,000 on its rows
 * are 50,000 row writes.
 */
export const lockFleet = (tx: Tx) => tx.execute(sql`lock table ${unit} in exclusive mode`);

/**
 * Locks the unit first in every write that judges it: two readings saved together would each judge without
 * the other. Not its key, so that an import, whose rows name many units, and a judging pass each other.
 */
export async function lockUnit(
  tx: Tx,
  unitId: string,
): Promise<typeof unit.$inferSelect | undefined> {
  const [row] = await tx.select().from(unit).where(eq(unit.id, unitId)).for('no key update');
  return row;
}
