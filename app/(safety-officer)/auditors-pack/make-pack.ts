import 'server-only';
import { redirect } from 'next/navigation';
import { checkLedgerNow } from '@/app/_ledger-standing';
import { requireSignIn } from '@/app/_session';
import { database } from '@/db/handle';
import { packFacts } from '@/db/reads/pack-facts';
import { requirePermission } from '@/lib/access';
import { auditorsPack, type Pack } from '@/lib/outflow/pack/auditors-pack';
import { type PackRequest, readPackRequest } from './pack-request';
import { addressOfRefusal } from './refused-pack';

interface Made {
  readonly pack: Pack;
  readonly paper: PackRequest['paper'];
  readonly madeAt: Date;
  /** Without its ending. */
  readonly fileName: string;
}

/** The pack that an address asks for, or else on to the page that says why there is none. */
export async function makePack(url: URL): Promise<Made> {
  const person = await requireSignIn('/auditors-pack');
  requirePermission(person, "make an auditor's pack");
  const asked = readPackRequest(url.searchParams);
  if (!asked.success) redirect(addressOfRefusal(url.searchParams, null));
  const { unit = null, from = null, to = null, paper } = asked.data;
  const { db } = await database();
  const check = await checkLedgerNow();
  const facts = await packFacts(db, person, { unitId: unit, from, to });
  if (!facts.ok) redirect(addressOfRefusal(url.searchParams, facts.error));
  const reader = {
    name: `${person.name}, ${person.badge}`,
    pressure: person.pressureUnit,
    distance: person.distanceUnit,
  };
  return {
    pack: auditorsPack(facts.value, check, reader),
    paper,
    madeAt: check.checkedAt,
    fileName: ['auditors-pack', unit, from, to].filter(Boolean).join('-').toLowerCase(),
  };
}
