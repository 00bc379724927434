import { eq } from 'drizzle-orm';
import type { Db, Tx } from '../client';
import { setting } from '../schema';

export const smallShopName = 'small shop';

/** The small-shop rule as it stands, and a change that waits for its second person. */
export interface SmallShop {
  readonly isOn: boolean;
  readonly proposed: { readonly isOn: boolean; readonly by: string; readonly why: string } | null;
}

export async function smallShop(db: Db | Tx): Promise<SmallShop> {
  const [row] = await db
    .select({ value: setting.value })
    .from(setting)
    .where(eq(setting.name, smallShopName));
  return (row?.value as SmallShop | undefined) ?? { isOn: false, proposed: null };
}
