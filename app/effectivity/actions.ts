'use server';

import { refresh } from 'next/cache';
import { z } from 'zod';
import { requireSignIn } from '@/app/_session';
import { counted } from '@/app/_ui/format';
import { database } from '@/db/handle';
import { bulletinOnRecord } from '@/db/reads/bulletin-on-record';
import { unitsUnderBulletin } from '@/db/reads/effectivity';
import { raiseWorkOrder } from '@/db/writes/raise-work-order';
import { AccessDenied, requirePermission } from '@/lib/access';
import { unitNumber } from '@/lib/plain-text';
import { type FormState, wrong } from '../(safety-officer)/form-state';
import { findWeeks } from './find-weeks';

const chosen = z.object({
  bulletinId: z.uuid(),
  units: z.array(unitNumber).min(1).max(500),
});

/** Raises an order for the bulletin on each chosen unit and finds it a week in the bays. */
export async function placeInPlan(_: FormState, data: FormData): Promise<FormState> {
  const actor = await requireSignIn('/effectivity');
  const form = chosen.safeParse({
    bulletinId: data.get('bulletinId'),
    units: data.getAll('units'),
  });
  if (!form.success) return wrong('units', 'No unit is chosen.', 'Choose at least one.');
  const { bulletinId } = form.data;
  const { db } = await database();
  const now = new Date();
  try {
    requirePermission(actor, 'plan');
    const found = await bulletinOnRecord(db, actor, bulletinId);
    const open = new Set(
      (await unitsUnderBulletin(db, actor, bulletinId))
        .filter(({ status }) => status === 'open')
        .map(({ unitId }) => unitId),
    );
    const units = form.data.units.filter((unitId) => open.has(unitId));
    if (!found || units.length === 0) {
      return wrong('units', 'It is open on none of them now.', 'Load the page again.');
    }
    const { bulletin } = found;
    const raised: string[] = [];
    for (const unitId of units) {
      const order = await raiseWorkOrder(db, {
        actor,
        unitId,
        why: `Bulletin ${bulletin.number}: ${bulletin.title}`,
        raisedFrom: 'bulletin',
        taskKinds: [],
        bulletinIds: [bulletinId],
        wantedBy: bulletin.dueOn,
        now,
      });
      if (order.ok) raised.push(order.value.id);
    }
    const placed = await findWeeks(db, actor, raised, now);
    refresh();
    const left = raised.length - placed;
    return {
      problems: [],
      said: `${counted(raised.length, 'order', 'orders')} raised, ${placed} placed.${left > 0 ? ` ${left} found no free week: place them in the bay plan.` : ''}`,
    };
  } catch (error) {
    if (!(error instanceof AccessDenied)) throw error;
    return wrong('units', `${error.message}.`, 'Ask a fleet manager.');
  }
}
