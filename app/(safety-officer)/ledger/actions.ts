'use server';

import { refresh } from 'next/cache';
import { checkLedgerNow } from '@/app/_ledger-standing';
import { requireSignIn } from '@/app/_session';
import { requirePermission } from '@/lib/access';

export async function checkNow(): Promise<void> {
  requirePermission(await requireSignIn('/ledger'), 'see the ledger');
  await checkLedgerNow();
  refresh();
}
