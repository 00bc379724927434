import { type Actor, requirePermission } from '@/lib/access';
import { compileRule } from '@/lib/bulletins/condition';
import { judgeFleet } from '@/lib/bulletins/judge-fleet';
import { parseRule } from '@/lib/bulletins/parse-rule';
import { applies, undecided, unitColumns } from '@/lib/bulletins/unit-columns';
import { localDay } from '@/lib/calendar';
import { type Result, success } from '@/lib/result';
import type { Db } from '../client';
import { bulletinFacts } from './bulletin-facts';

/** How many units a rule would cover, before it is entered. */
export async function previewRule(
  db: Db,
  actor: Actor,
  rule: unknown,
  now: Date,
): Promise<Result<{ applies: number; undecided: number; doesNot: number }>> {
  requirePermission(actor, 'edit bulletins');
  const parsed = parseRule(rule);
  if (!parsed.ok) return parsed;
  const columns = unitColumns(await bulletinFacts(db));
  const answers = judgeFleet(compileRule(parsed.value, localDay(now, 'UTC')), columns);
  const count = (answer: number) => answers.reduce((sum, one) => sum + (one === answer ? 1 : 0), 0);
  const covered = count(applies);
  const open = count(undecided);
  return success({ applies: covered, undecided: open, doesNot: answers.length - covered - open });
}
