import type { CompiledRule } from '@/lib/bulletins/condition';
import type { BulletinFacts, FactName } from '@/lib/bulletins/unit-facts';
import type { Db, Tx } from '../client';
import { bulletinFacts } from './bulletin-facts';
import { unitsInQuestion } from './units-in-question';

/**
 * What a rule asks of each unit that it may cover or leave undecided; it does not apply to any unit
 * that is left out. `also` names facts that the caller asks for.
 */
export async function factsInQuestion(
  db: Db | Tx,
  rule: CompiledRule,
  also: readonly FactName[] = [],
): Promise<BulletinFacts[]> {
  const asked = [...rule.flat().map(({ fact }) => fact), ...also];
  return bulletinFacts(db, { units: await unitsInQuestion(db, rule), asked });
}
