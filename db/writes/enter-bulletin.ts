import { type Actor, requirePermission } from '@/lib/access';
import { failure, type Result, success } from '@/lib/result';
import type { Db } from '../client';
import { appendToLedger, holdingLedger } from '../ledger';
import { judgeFewMarks } from '../record/judge-few-marks';
import { type BulletinDraft, storeBulletin } from '../record/store-bulletin';
import { inTransaction, lockFleet, sqlState } from '../transaction';

interface EnterBulletin {
  readonly actor: Actor;
  readonly draft: BulletinDraft;
  readonly now: Date;
}

export interface Entered {
  readonly bulletinId: string;
  readonly unitsCovered: number;
  /** Units whose mark it may change that are left to the sweep. */
  readonly toJudge: number;
}

/** Enters a bulletin, judges every unit under it and the marks that it touches, all on the ledger. */
export async function enterBulletin(
  db: Db,
  { actor, draft, now }: EnterBulletin,
): Promise<Result<Entered>> {
  requirePermission(actor, 'edit bulletins');
  try {
    return await inTransaction(db, async (tx) => {
      await lockFleet(tx);
      const entered = await storeBulletin(tx, { actor, draft, now });
      if (!entered.ok) return entered;
      const { noted, marksTouched, ...value } = entered.value;
      const because = `bulletin ${draft.number} entered`;
      return holdingLedger(tx, async () => {
        await appendToLedger(tx, { kind: 'bulletin entered', actor, now, payload: noted });
        const marks = { unitIds: marksTouched, actor, now, because };
        return success({ ...value, toJudge: await judgeFewMarks(tx, marks) });
      });
    });
  } catch (error) {
    if (sqlState(error) !== '23505') throw error;
    return failure([
      {
        field: 'number',
        message: `Bulletin ${draft.number}, issue ${draft.issue} is on record already.`,
        mend: 'Enter a later issue, or change the number.',
      },
    ]);
  }
}
