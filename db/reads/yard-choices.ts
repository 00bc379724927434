import { asc } from 'drizzle-orm';
import type { Actor } from '@/lib/access';
import type { Db, Tx } from '../client';
import { shed, unit } from '../schema';
import { unitsSeenBy } from './units-seen-by';

export interface YardChoices {
  readonly sheds: readonly { readonly id: string; readonly name: string }[];
  readonly makes: readonly { readonly make: string; readonly models: readonly string[] }[];
}

/** What the yard's filters offer: the sheds and the builds of the units that a person may see. */
export async function yardChoices(db: Db | Tx, actor: Actor): Promise<YardChoices> {
  const seen = unitsSeenBy(actor);
  const sheds = await db
    .select({ id: shed.id, name: shed.name })
    .from(shed)
    .orderBy(asc(shed.name));
  const builds = await db
    .selectDistinct({ make: unit.make, model: unit.model })
    .from(unit)
    .where(seen)
    .orderBy(asc(unit.make), asc(unit.model));
  const models = new Map<string, string[]>();
  for (const { make, model } of builds) {
    if (make === null) continue;
    models.set(make, [...(models.get(make) ?? []), ...(model === null ? [] : [model])]);
  }
  return {
    sheds: seen ? sheds.filter(({ id }) => actor.shedIds.includes(id)) : sheds,
    makes: [...models].map(([make, of]) => ({ make, models: of })),
  };
}
