import type { Actor } from '@/lib/access';
import type { Metres } from '@/lib/measure';
import type { Tx } from '../client';
import { appendToLedger } from '../ledger';
import type { reading } from '../schema';
import { judgeBulletinsOfUnits } from './judge-bulletins';
import { judgeUnit, type StoredVerdict } from './judge-unit';
import { noteDriving } from './note-driving';
import { proveOrders } from './prove-orders';
import { settleLateReading } from './settle-late-reading';

interface NewReading {
  readonly row: typeof reading.$inferSelect;
  readonly elevation: Metres;
  readonly actor: Actor;
  readonly now: Date;
}

/** What a new reading sets off: orders proven, spells, bulletins, and the verdict. The unit is locked. */
export async function followReading(tx: Tx, following: NewReading): Promise<StoredVerdict> {
  const { row, actor, now } = following;
  const { unitId } = row;
  await proveOrders(tx, following);
  await settleLateReading(tx, following);
  await noteDriving(tx, {
    unitId,
    odometer: row.odometerKm,
    seenAt: row.readAt,
    seenBy: 'reading',
    actor,
    now,
  });
  await judgeBulletinsOfUnits(tx, [unitId], {
    touched: 'readings',
    isCorrection: false,
    because: 'reading recorded',
    actor,
    now,
  });
  const stored = await judgeUnit(tx, { unitId, actor, now, because: 'reading recorded' });
  await noteOtherCall(tx, following, stored);
  return stored;
}

/** The device judged by less than the desk knew: where the two differ, the ledger holds both. */
async function noteOtherCall(
  tx: Tx,
  { row, actor, now }: NewReading,
  stored: StoredVerdict,
): Promise<void> {
  const { deviceCall } = row;
  if (!deviceCall || deviceCall.mark === stored.mark) return;
  await appendToLedger(tx, {
    kind: 'judged otherwise than on the device',
    actor,
    now,
    unitId: row.unitId,
    payload: {
      readingId: row.id,
      device: deviceCall,
      desk: { mark: stored.mark, rules: stored.assessment.reasons.map(({ rule }) => rule) },
    },
  });
}
