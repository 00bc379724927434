import { asc, eq } from 'drizzle-orm';
import { type Actor, permissionOf, requirePermission } from '@/lib/access';
import { effectivity } from '@/lib/bulletins/effectivity';
import { parseRule } from '@/lib/bulletins/parse-rule';
import { unitColumns } from '@/lib/bulletins/unit-columns';
import { localDay } from '@/lib/calendar';
import type { Db } from '../client';
import { bulletin, bulletinUnit, unit } from '../schema';
import { bulletinFacts } from './bulletin-facts';

/** Bulletins, the build ranges that they cut, and the counts of each cell, for the units that the actor sees. */
export async function effectivityMatrix(db: Db, actor: Actor, now: Date) {
  requirePermission(actor, 'see units');
  const bulletins = await db
    .select({
      id: bulletin.id,
      number: bulletin.number,
      issue: bulletin.issue,
      title: bulletin.title,
      issuedOn: bulletin.issuedOn,
      kind: bulletin.kind,
      dueOn: bulletin.dueOn,
      rule: bulletin.rule,
      conditions: bulletin.conditions,
      actions: bulletin.actions,
      hours: bulletin.hours,
      source: bulletin.source,
      supersedesId: bulletin.supersedesId,
    })
    .from(bulletin)
    .orderBy(asc(bulletin.number), asc(bulletin.issue));
  const seen = await db.select({ id: unit.id, shedId: unit.shedId }).from(unit).orderBy(unit.id);
  const isEvery = permissionOf(actor.role, 'see units') === 'yes';
  const ids = seen
    .filter(({ shedId }) => isEvery || actor.shedIds.includes(shedId))
    .map(({ id }) => id);
  const facts = await bulletinFacts(db, isEvery ? undefined : ids);
  const recorded = await db
    .select({
      bulletin: bulletinUnit.bulletinId,
      unit: bulletinUnit.unitId,
      status: bulletinUnit.status,
    })
    .from(bulletinUnit);
  const later = new Map(
    bulletins.flatMap(({ id, supersedesId }) =>
      supersedesId ? [[supersedesId, id] as const] : [],
    ),
  );
  const rules = bulletins.map(({ id, rule }) => {
    const parsed = parseRule(rule);
    if (!parsed.ok) throw new Error(`bulletin ${id} holds a rule that cannot be read`);
    return { id, rule: parsed.value, supersededBy: later.get(id) ?? null };
  });
  return {
    bulletins,
    facts,
    matrix: effectivity(rules, unitColumns(facts), recorded, localDay(now, 'UTC')),
  };
}

/** Units under one bulletin with why, and what is missing where it is undecided. */
export const unitsUnderBulletin = (db: Db, actor: Actor, bulletinId: string) => {
  requirePermission(actor, 'see units');
  return db
    .select()
    .from(bulletinUnit)
    .where(eq(bulletinUnit.bulletinId, bulletinId))
    .orderBy(asc(bulletinUnit.unitId));
};
