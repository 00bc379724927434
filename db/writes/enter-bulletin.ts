import { type Actor, requirePermission } from '@/lib/access';
import { failure, type Result } from '@/lib/result';
import type { Db } from '../client';
import { appendToLedger } from '../ledger';
import { type BulletinDraft, type Entered, storeBulletin } from '../record/store-bulletin';
import { inTransaction, lockFleet, sqlState } from '../transaction';

interface EnterBulletin {
  readonly actor: Actor;
  readonly draft: BulletinDraft;
  readonly now: Date;
}

/** Enters a bulletin, judges every unit under it and the verdicts that it touches, all on the ledger. */
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
      const payload = entered.value.noted;
      await appendToLedger(tx, { kind: 'bulletin entered', actor, now, payload });
      return entered;
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
