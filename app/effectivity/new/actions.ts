'use server';

import { redirect } from 'next/navigation';
import { z } from 'zod';
import { requireSignIn } from '@/app/_session';
import { database } from '@/db/handle';
import { previewRule } from '@/db/reads/preview-rule';
import { type BulletinDraft, enterBulletin } from '@/db/writes/enter-bulletin';
import { AccessDenied } from '@/lib/access';
import { parts } from '@/lib/analysis/reading';
import { bulletinKinds } from '@/lib/bulletins/bulletin-state';
import { keyedNumber } from '@/lib/intake/keyed-number';
import type { Problem } from '@/lib/result';

export interface BulletinFormState {
  readonly problems: readonly Problem[];
  readonly preview: {
    readonly applies: number;
    readonly undecided: number;
    readonly doesNot: number;
  } | null;
  readonly values: Readonly<Record<string, string>>;
}

const text = (most: number, what: string) =>
  z.string().trim().min(1, `${what} is missing.`).max(most);
const optional = z.string().trim().max(200);

const form = z.object({
  number: text(30, 'The number'),
  issue: text(10, 'The issue'),
  title: text(120, 'The title'),
  issuedOn: z.iso.date({ error: 'The day of issue is no date.' }),
  kind: z.enum(bulletinKinds),
  dueOn: z.union([z.literal(''), z.iso.date()]),
  conditions: text(2000, 'What the bulletin says'),
  actions: text(2000, 'What is to be done'),
  hours: optional,
  source: text(200, 'The source'),
  make: optional,
  model: optional,
  engine: optional,
  modelYearFrom: optional,
  modelYearTo: optional,
  builtFrom: optional,
  builtTo: optional,
  part: z.enum(['', ...parts]),
  revisions: optional,
});

const listOf = (value: string) =>
  value
    .split(',')
    .map((one) => one.trim())
    .filter((one) => one !== '');

/** The single range that the form describes; what is left empty is no condition. */
function ruleOf(values: z.infer<typeof form>): unknown {
  const between = (from: string, to: string, as: (text: string) => unknown) =>
    from || to ? { ...(from && { from: as(from) }), ...(to && { to: as(to) }) } : undefined;
  const modelYear = between(values.modelYearFrom, values.modelYearTo, Number);
  const built = between(values.builtFrom, values.builtTo, String);
  const range = {
    ...(values.make && { make: listOf(values.make) }),
    ...(values.model && { model: listOf(values.model) }),
    ...(values.engine && { engine: listOf(values.engine) }),
    ...(modelYear && { modelYear }),
    ...(built && { built }),
    ...(values.part &&
      values.revisions && {
        fitted: [
          { part: values.part, fact: 'revision', is: 'in', values: listOf(values.revisions) },
        ],
      }),
  };
  return { anyOf: [range] };
}

export async function bulletinAction(
  _: BulletinFormState,
  data: FormData,
): Promise<BulletinFormState> {
  const actor = await requireSignIn('/effectivity/new');
  const values = Object.fromEntries(
    [...data].flatMap(([name, value]) => (typeof value === 'string' ? [[name, value]] : [])),
  );
  const answer = (problems: readonly Problem[]): BulletinFormState => ({
    problems,
    preview: null,
    values,
  });
  const parsed = form.safeParse(values);
  if (!parsed.success) {
    return answer(
      parsed.error.issues.map((issue) => ({
        field: String(issue.path[0] ?? 'number'),
        message: issue.message,
        mend: 'Fill it in.',
      })),
    );
  }
  const hours = keyedNumber(parsed.data.hours, 'hours');
  if (!hours.ok) return answer([hours.error]);
  if (parsed.data.kind === 'mandatory' && parsed.data.dueOn === '') {
    return answer([
      { field: 'dueOn', message: 'A mandatory bulletin has a due date.', mend: 'Key the date.' },
    ]);
  }
  const { number, issue, title, issuedOn, kind, dueOn, conditions, actions, source } = parsed.data;
  const draft: BulletinDraft = {
    number,
    issue,
    title,
    issuedOn,
    kind,
    dueOn: dueOn || null,
    rule: ruleOf(parsed.data),
    conditions,
    actions,
    hours: hours.value,
    requiredPart: null,
    requiredRevision: null,
    source,
  };
  const { db } = await database();
  try {
    if (data.get('step') === 'preview') {
      const preview = await previewRule(db, actor, draft.rule, new Date());
      return preview.ok
        ? { problems: [], preview: preview.value, values }
        : answer(onForm(preview.error));
    }
    const entered = await enterBulletin(db, { actor, draft, now: new Date() });
    if (!entered.ok) return answer(onForm(entered.error));
  } catch (error) {
    if (!(error instanceof AccessDenied)) throw error;
    return answer([
      { field: 'number', message: `${error.message}.`, mend: 'Ask a fleet manager.' },
    ]);
  }
  redirect('/effectivity');
}

/** A problem of the rule points at the rule's part of the form. */
const onForm = (problems: readonly Problem[]): Problem[] =>
  problems.map((problem) => (problem.field === 'number' ? problem : { ...problem, field: 'make' }));
