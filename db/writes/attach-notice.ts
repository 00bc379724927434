import { createHash } from 'node:crypto';
import { eq } from 'drizzle-orm';
import { type Actor, requirePermission } from '@/lib/access';
import { type AttachedPdf, attachedPdf } from '@/lib/intake/attached-pdf';
import { failure, type Problem, type Result, success } from '@/lib/result';
import type { Db } from '../client';
import { appendToLedger } from '../ledger';
import { bulletin, bulletinAttachment } from '../schema';
import { inTransaction } from '../transaction';

interface AttachNotice extends AttachedPdf {
  readonly actor: Actor;
  readonly bulletinId: string;
  readonly now: Date;
}

/** Keeps the notice beside its bulletin; a later one takes its place and both digests stay on the ledger. */
export async function attachNotice(
  db: Db,
  { actor, bulletinId, name, content, now }: AttachNotice,
): Promise<Result<{ readonly name: string }, Problem>> {
  requirePermission(actor, 'edit bulletins');
  const pdf = attachedPdf(name, content);
  if (!pdf.ok) return pdf;
  const digest = createHash('sha256').update(content).digest('hex');
  return inTransaction(db, async (tx): Promise<Result<{ name: string }, Problem>> => {
    const [row] = await tx
      .select({ number: bulletin.number, issue: bulletin.issue })
      .from(bulletin)
      .where(eq(bulletin.id, bulletinId))
      .for('update');
    if (!row) {
      return failure({
        field: 'attachment',
        message: 'No such bulletin is on record.',
        mend: 'Load the page again.',
      });
    }
    const kept = { ...pdf.value, digest, attachedBy: actor.personId, attachedAt: now };
    await tx
      .insert(bulletinAttachment)
      .values({ bulletinId, ...kept })
      .onConflictDoUpdate({ target: bulletinAttachment.bulletinId, set: kept });
    await appendToLedger(tx, {
      kind: 'notice attached',
      actor,
      now,
      payload: { ...row, name: pdf.value.name, bytes: content.length, digest },
    });
    return success({ name: pdf.value.name });
  });
}
