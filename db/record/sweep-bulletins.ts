import { and, eq, inArray, lte } from 'drizzle-orm';
import { isoFromDay, localDay } from '@/lib/calendar';
import type { Tx } from '../client';
import { bulletinUnit } from '../schema';
import { judgeBulletinsOfUnits } from './judge-bulletins';
import { moveBulletin } from './move-bulletin';

/** What a new day does to bulletins: refusals whose review date has come open again, units grow older. */
export async function sweepBulletins(tx: Tx, unitIds: readonly string[], now: Date): Promise<void> {
  const on = localDay(now, 'UTC');
  const due = await tx
    .select({ bulletinId: bulletinUnit.bulletinId, unitId: bulletinUnit.unitId })
    .from(bulletinUnit)
    .where(
      and(
        inArray(bulletinUnit.unitId, [...unitIds]),
        eq(bulletinUnit.status, 'refused'),
        lte(bulletinUnit.reviewOn, isoFromDay(on)),
      ),
    );
  for (const pair of due) {
    await moveBulletin(tx, {
      ...pair,
      event: { type: 'review date reached', on },
      actor: null,
      now,
    });
  }
  const because = 'sweep';
  const judge = { touched: 'age', isCorrection: false, because, actor: null, now } as const;
  await judgeBulletinsOfUnits(tx, unitIds, judge);
}
