import { eq } from 'drizzle-orm';
import { type Actor, requirePermission } from '@/lib/access';
import type { DistanceUnit, PressureUnit } from '@/lib/measure';
import type { Db } from '../client';
import { appendToLedger } from '../ledger';
import { person } from '../schema';
import { inTransaction } from '../transaction';

interface ChooseOwnUnits {
  readonly actor: Actor;
  /** Null takes the unit of the person's shed. */
  readonly pressureUnit: PressureUnit | null;
  readonly distanceUnit: DistanceUnit | null;
  readonly now: Date;
}

/** In what a person reads pressures and distances. What was keyed stays as it was keyed. */
export async function chooseOwnUnits(
  db: Db,
  { actor, pressureUnit, distanceUnit, now }: ChooseOwnUnits,
): Promise<void> {
  requirePermission(actor, 'choose own units');
  const { personId } = actor;
  await inTransaction(db, async (tx) => {
    const changed = { pressureUnit, distanceUnit, updatedAt: now };
    await tx.update(person).set(changed).where(eq(person.id, personId));
    await appendToLedger(tx, {
      kind: 'units of measure chosen',
      actor,
      now,
      payload: { personId, pressureUnit, distanceUnit },
    });
  });
}
