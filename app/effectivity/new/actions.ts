'use server';

import { redirect } from 'next/navigation';
import { requireSignIn } from '@/app/_session';
import { sweepAfterwards } from '@/app/_sweep-afterwards';
import { database } from '@/db/handle';
import { previewRule, type RulePreview } from '@/db/reads/preview-rule';
import { enterBulletin } from '@/db/writes/enter-bulletin';
import { AccessDenied } from '@/lib/access';
import type { Problem } from '@/lib/result';
import { type AlikeChanges, alikeChanges } from './alike-changes';
import { draftOf, type Keyed, rangeField, rangesOf } from './bulletin-values';

export interface BulletinPreview extends Omit<RulePreview, 'marks'> {
  readonly marks: readonly AlikeChanges[];
}

export interface BulletinFormState {
  readonly problems: readonly Problem[];
  readonly preview: BulletinPreview | null;
  readonly values: Keyed;
}

/** Everything that was keyed, in one text: what is entered must be what was previewed. */
const fingerprint = ({ step: _, previewed: __, ...keyed }: Record<string, string>): string =>
  JSON.stringify(Object.entries(keyed).sort());

export async function bulletinAction(
  _: BulletinFormState,
  data: FormData,
): Promise<BulletinFormState> {
  const actor = await requireSignIn('/effectivity/new');
  const keyed: Record<string, string> = Object.fromEntries(
    [...data].flatMap(([name, value]) =>
      typeof value === 'string' && !name.startsWith('$') ? [[name, value]] : [],
    ),
  );
  const values = { ...keyed, previewed: '' };
  const answer = (problems: readonly Problem[]) => ({ problems, preview: null, values });
  const draft = draftOf(keyed, { pressure: actor.pressureUnit, distance: actor.distanceUnit });
  if (!draft.ok) return answer(draft.error);
  const { db } = await database();
  const now = new Date();
  let bulletinId: string;
  try {
    const isPreviewed = keyed.previewed === fingerprint(keyed);
    if (keyed.step !== 'enter' || !isPreviewed) {
      const preview = await previewRule(db, actor, draft.value, now);
      if (!preview.ok) return answer(onForm(preview.error, keyed));
      return {
        problems: [],
        preview: { ...preview.value, marks: alikeChanges(preview.value.marks) },
        values: { ...keyed, previewed: fingerprint(keyed) },
      };
    }
    const entered = await enterBulletin(db, { actor, draft: draft.value, now });
    if (!entered.ok) return answer(onForm(entered.error, keyed));
    bulletinId = entered.value.bulletinId;
    if (entered.value.toJudge > 0) sweepAfterwards('a bulletin was entered');
  } catch (error) {
    if (!(error instanceof AccessDenied)) throw error;
    return answer([
      { field: 'number', message: `${error.message}.`, mend: 'Ask a fleet manager.' },
    ]);
  }
  redirect(`/effectivity/bulletins/${bulletinId}`);
}

/** A problem of the rule as a whole points at its first range. */
const onForm = (problems: readonly Problem[], keyed: Keyed): Problem[] =>
  problems.map((problem) => {
    if (problem.field === 'number') return problem;
    if (problem.field === 'supersedes') return { ...problem, field: 'supersedesId' };
    return { ...problem, field: rangeField(rangesOf(keyed)[0] ?? 0, 'make') };
  });
