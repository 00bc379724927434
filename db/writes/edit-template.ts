import { type Actor, requirePermission } from '@/lib/access';
import type { Db } from '../client';
import { appendToLedger } from '../ledger';
import { jobTemplate } from '../schema';
import { inTransaction } from '../transaction';

interface EditTemplate {
  readonly actor: Actor;
  readonly template: typeof jobTemplate.$inferInsert;
  readonly now: Date;
}

/** Sets what a kind of task takes. Orders raised before keep what they were raised with. */
export async function editTemplate(db: Db, { actor, template, now }: EditTemplate): Promise<void> {
  requirePermission(actor, 'plan');
  const { kind, ...values } = template;
  await inTransaction(db, async (tx) => {
    await tx
      .insert(jobTemplate)
      .values(template)
      .onConflictDoUpdate({ target: jobTemplate.kind, set: values });
    await appendToLedger(tx, {
      kind: 'job template changed',
      actor,
      now,
      payload: {
        task: kind,
        title: template.title,
        hours: template.hours,
        tools: [...template.tools],
        partNumbers: [...template.partNumbers],
        steps: template.steps.map(({ text, value, caution }) => ({
          text,
          value: value ?? null,
          caution: caution ?? null,
        })),
        torqueNm: template.torqueNm ?? null,
      },
    });
  });
}
