import { eq } from 'drizzle-orm';
import type { Actor } from '@/lib/access';
import { failure, type Result, success } from '@/lib/result';
import type { Tx } from '../client';
import { setting } from '../schema';

export type Undecidable = 'no such proposal' | 'your own proposal';

/** A setting with what one person proposed and another decides. */
interface Proposable {
  readonly proposed: { readonly by: string } | null;
}
type Proposed<Value extends Proposable> = Value & {
  readonly proposed: NonNullable<Value['proposed']>;
};

/** A setting that waits for a decision, locked; nobody decides an own proposal. */
export async function lockProposed<Value extends Proposable>(
  tx: Tx,
  name: string,
  actor: Actor,
): Promise<Result<Proposed<Value>, Undecidable>> {
  const [row] = await tx.select().from(setting).where(eq(setting.name, name)).for('update');
  const value = row?.value as Proposed<Value> | undefined;
  if (!value?.proposed) return failure('no such proposal');
  if (value.proposed.by === actor.personId) return failure('your own proposal');
  return success(value);
}

interface Decided<Value> {
  readonly name: string;
  readonly value: Value;
  readonly actor: Actor;
  readonly now: Date;
}

export async function keepDecided<Value extends object>(
  tx: Tx,
  { name, value, actor, now }: Decided<Value>,
): Promise<void> {
  await tx
    .update(setting)
    .set({ value, changedBy: actor.personId, changedAt: now })
    .where(eq(setting.name, name));
}
