import { eq } from 'drizzle-orm';
import { defaultRetention, type RetentionPolicy } from '@/lib/retention/retention-policy';
import type { Db, Tx } from '../client';
import { setting } from '../schema';

export const retentionName = 'retention';

/** The policy as it stands, and one that waits for its second person. */
export interface Retention {
  readonly policy: RetentionPolicy;
  readonly proposed: {
    readonly policy: RetentionPolicy;
    readonly by: string;
    readonly why: string;
  } | null;
}

export async function retention(db: Db | Tx): Promise<Retention> {
  const [row] = await db
    .select({ value: setting.value })
    .from(setting)
    .where(eq(setting.name, retentionName));
  return (row?.value as Retention | undefined) ?? { policy: defaultRetention, proposed: null };
}
