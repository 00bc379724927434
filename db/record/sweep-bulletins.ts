import { and, eq, inArray, lte } from 'drizzle-orm';
import { isoFromDay, localDay } from '@/lib/calendar';
import type { Tx } from '../client';
import { bulletinUnit, type TouchedFacts } from '../schema';
import { judgeBulletinsOfUnits } from './judge-bulletins';
import { moveBulletin } from './move-bulletin';

interface Swept {
  readonly id: string;
  /** What an import has touched of it since it was judged. */
  readonly touched?: TouchedFacts | null;
  readonly isCorrection?: boolean | null;
}

/**
 * What a new day does to bulletins: refusals whose review date has come open again, units grow older.
 * What an import has told of units is judged with it.
 */
export async function sweepBulletins(tx: Tx, units: readonly Swept[], now: Date): Promise<void> {
  const unitIds = units.map(({ id }) => id);
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
  for (const touched of ['any', 'readings', 'parts'] as const) {
    for (const isCorrection of [true, false]) {
      const some = units.filter(
        (one) => one.touched === touched && one.isCorrection === isCorrection,
      );
      const ids = some.map(({ id }) => id);
      const judge = { touched, isCorrection, because: 'rows imported', actor: null, now };
      if (ids.length > 0) await judgeBulletinsOfUnits(tx, ids, judge);
    }
  }
  const because = 'sweep';
  const judge = { touched: 'age', isCorrection: false, because, actor: null, now } as const;
  await judgeBulletinsOfUnits(tx, unitIds, judge);
}
