import { type Actor, requirePermission } from '@/lib/access';
import type { BulletinKind } from '@/lib/bulletins/bulletin-state';
import { compileRule } from '@/lib/bulletins/condition';
import { judgeFleet } from '@/lib/bulletins/judge-fleet';
import { parseRule } from '@/lib/bulletins/parse-rule';
import type { RequiredPart } from '@/lib/bulletins/required-parts';
import { type EarlierWork, statusUnderLaterIssue } from '@/lib/bulletins/status-under-later-issue';
import { applies, undecided, unitColumns } from '@/lib/bulletins/unit-columns';
import { dayFromIso, localDay } from '@/lib/calendar';
import { type Result, success } from '@/lib/result';
import type { Db } from '../client';
import { unit } from '../schema';
import { earlierWork } from './earlier-work';
import { factsInQuestion } from './facts-in-question';
import { marksUnderBulletin } from './marks-under-bulletin';
import type { MarkChange } from './marks-under-limits';

interface PreviewRule {
  readonly rule: unknown;
  readonly number: string;
  readonly kind: BulletinKind;
  readonly dueOn: string | null;
  readonly requiredParts: readonly RequiredPart[];
  readonly supersedesId?: string | null;
  readonly doesDoneCarry?: boolean;
}

export interface RulePreview {
  readonly applies: number;
  readonly undecided: number;
  readonly doesNot: number;
  /** A do-not-drive bulletin changes them only when a safety officer has approved it. */
  readonly marks: readonly MarkChange[];
}

/** How many units a bulletin would cover and which marks it would change, before it is entered. */
export async function previewRule(
  db: Db,
  actor: Actor,
  draft: PreviewRule,
  now: Date,
): Promise<Result<RulePreview>> {
  requirePermission(actor, 'edit bulletins');
  const parsed = parseRule(draft.rule);
  if (!parsed.ok) return parsed;
  const rule = compileRule(parsed.value, localDay(now, 'UTC'));
  const asked = draft.requiredParts.map(({ part }) => `${part} revision` as const);
  const facts = await factsInQuestion(db, rule, draft.supersedesId ? asked : []);
  const answers = judgeFleet(rule, unitColumns(facts));
  const count = (answer: number) => answers.reduce((sum, one) => sum + (one === answer ? 1 : 0), 0);
  const covered = facts.filter((_, index) => answers[index] === applies).map((one) => one.unit);
  const open = count(undecided);
  const earlier = draft.supersedesId
    ? await earlierWork(db, draft.supersedesId, facts)
    : new Map<string, EarlierWork>();
  return success({
    applies: covered.length,
    undecided: open,
    doesNot: (await db.$count(unit)) - covered.length - open,
    marks: await marksUnderBulletin(
      db,
      {
        bulletin: {
          ...draft,
          dueOn: draft.dueOn === null ? null : dayFromIso(draft.dueOn),
        },
        openOn: covered.filter((unitId) => isOpenAtFirst(draft, earlier.get(unitId) ?? null)),
        replaced: draft.supersedesId ? { id: draft.supersedesId, on: [...earlier.keys()] } : null,
      },
      now,
    ),
  });
}

/** Whether a unit that a bulletin covers is open under it, or done by the work of the earlier issue. */
const isOpenAtFirst = (
  { requiredParts, doesDoneCarry = false }: PreviewRule,
  earlier: EarlierWork | null,
): boolean => {
  const judgement = { answer: 'applies', why: '' } as const;
  const first = statusUnderLaterIssue({ requiredParts, doesDoneCarry }, judgement, earlier);
  return first.status === 'open';
};
