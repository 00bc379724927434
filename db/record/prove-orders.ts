import { and, eq, lte } from 'drizzle-orm';
import type { Actor } from '@/lib/access';
import { ambientPressureAt } from '@/lib/atmosphere';
import { dayFromIso } from '@/lib/calendar';
import { proofFailures, proofMeasureWords } from '@/lib/stand-down/proof-failures';
import type { Tx } from '../client';
import { appendToLedger } from '../ledger';
import { limitsInForce } from '../reads/limits-in-force';
import { readingOfRow } from '../reads/readings-of-units';
import { type reading, workOrder } from '../schema';
import { changeOrder, lockOrder } from './change-order';
import { followOrder } from './follow-order';

interface Proving {
  readonly row: typeof reading.$inferSelect;
  readonly elevation: number;
  readonly actor: Actor;
  readonly now: Date;
}

/**
 * Holds a reading against the finished orders of its unit: a whole one inside the proof limits closes
 * them, one outside sends them back to the bay. While a spell is open the release closes its order.
 */
export async function proveOrders(tx: Tx, { row, elevation, actor, now }: Proving): Promise<void> {
  const finished = await tx
    .select({ id: workOrder.id })
    .from(workOrder)
    .where(
      and(
        eq(workOrder.unitId, row.unitId),
        eq(workOrder.state, 'finished'),
        lte(workOrder.finishedAt, row.readAt),
      ),
    );
  if (finished.length === 0) return;
  const limits = await limitsInForce(tx, dayFromIso(row.readOn) ?? 0);
  const ambient = row.barometerKpa ?? ambientPressureAt(elevation);
  const { failures, notMeasured } = proofFailures(readingOfRow(row), limits, ambient);
  if (failures.length === 0 && notMeasured.length > 0) return;
  for (const { id } of finished) {
    const locked = await lockOrder(tx, id);
    if (!locked) continue;
    const hasPassed = failures.length === 0;
    if (hasPassed && locked.hasOpenSpell) continue;
    const changed = await changeOrder(tx, locked, {
      move: hasPassed ? 'prove' : 'fail the proof',
      mover: 'system',
      now,
    });
    if (!changed.ok) continue;
    await appendToLedger(tx, {
      kind: hasPassed ? 'work order: prove' : 'work order: fail the proof',
      actor,
      now,
      unitId: row.unitId,
      payload: {
        workOrder: locked.order.number,
        readingId: row.id,
        failed: proofMeasureWords(failures.map(({ measure }) => measure)),
      },
    });
    await followOrder(tx, { order: changed.value, tasks: locked.tasks, actor, now });
  }
}
