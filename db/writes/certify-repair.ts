import { eq } from 'drizzle-orm';
import { type Actor, requirePermission } from '@/lib/access';
import { failure, type Result, success } from '@/lib/result';
import { mayCertify } from '@/lib/stand-down/next-steps';
import type { Refusal } from '@/lib/stand-down/refusals';
import type { CertificateKind } from '@/lib/stand-down/spell-facts';
import type { Db } from '../client';
import { appendToLedger } from '../ledger';
import { openSpellOfUnit } from '../reads/facts-of-spells';
import { person, spell } from '../schema';
import { inTransaction, lockUnit } from '../transaction';

interface CertifyRepair {
  readonly actor: Actor;
  readonly unitId: string;
  readonly kind: CertificateKind;
  readonly note: string;
  readonly now: Date;
}

/** The first signature. A certificate that later work or a failed proof voided may be signed anew. */
export async function certifyRepair(
  db: Db,
  { actor, unitId, kind, note, now }: CertifyRepair,
): Promise<Result<null, Refusal>> {
  return inTransaction(db, async (tx): Promise<Result<null, Refusal>> => {
    const unit = await lockUnit(tx, unitId);
    requirePermission(actor, 'certify a repair', unit?.shedId);
    const open = await openSpellOfUnit(tx, unitId);
    if (!open) return failure('no open spell');
    const allowed = mayCertify(open.facts, actor, { kind, whatWasChecked: note });
    if (!allowed.ok) return allowed;
    const { row } = open;
    await tx
      .update(spell)
      .set({
        certificate: kind,
        certifiedBy: actor.personId,
        certifiedAt: now,
        certifiedNote: note,
      })
      .where(eq(spell.id, row.id));
    const [certifier] = await tx
      .select({ isOutside: person.isOutsideCertifier })
      .from(person)
      .where(eq(person.id, actor.personId));
    await appendToLedger(tx, {
      kind: 'repair certified',
      actor,
      now,
      unitId,
      payload: {
        spellId: row.id,
        certificate: kind,
        note,
        isOutsideShop: certifier?.isOutside ?? false,
        replaces: row.certifiedBy ? { certificate: row.certificate, by: row.certifiedBy } : null,
      },
    });
    return success(null);
  });
}
