import { eq } from 'drizzle-orm';
import type { Actor } from '@/lib/access';
import type { BulletinKind } from '@/lib/bulletins/bulletin-state';
import { compileRule } from '@/lib/bulletins/condition';
import { parseRule } from '@/lib/bulletins/parse-rule';
import { type RequiredPart, requiredPartsInWords } from '@/lib/bulletins/required-parts';
import { localDay } from '@/lib/calendar';
import type { Json } from '@/lib/ledger/canonical-json';
import { failure, type Result, success } from '@/lib/result';
import type { Tx } from '../client';
import { earlierWork } from '../reads/earlier-work';
import { factsInQuestion } from '../reads/facts-in-question';
import { bulletin, bulletinUnit } from '../schema';
import { type BulletinRow, judgeBulletin } from './judge-bulletins';

export interface BulletinDraft {
  readonly number: string;
  readonly issue: string;
  readonly title: string;
  readonly issuedOn: string;
  readonly kind: BulletinKind;
  readonly dueOn: string | null;
  readonly rule: unknown;
  readonly conditions: string;
  readonly actions: string;
  readonly hours: number;
  readonly requiredParts: readonly RequiredPart[];
  readonly source: string;
  /** The earlier issue that this one replaces, and whether work done under it counts. */
  readonly supersedesId?: string | null;
  readonly doesDoneCarry?: boolean;
}

interface Stored {
  readonly bulletinId: string;
  readonly unitsCovered: number;
  /** Units whose mark it may change, in order: the caller judges them. */
  readonly marksTouched: readonly string[];
  /** For the ledger, which the caller writes. */
  readonly noted: Json;
}

interface StoreBulletin {
  readonly actor: Actor;
  readonly draft: BulletinDraft;
  readonly now: Date;
}

/**
 * Stores a bulletin and judges under it every unit that it may concern. The fleet is locked; the caller
 * notes it in the ledger and judges the marks that it touches.
 */
export async function storeBulletin(
  tx: Tx,
  { actor, draft, now }: StoreBulletin,
): Promise<Result<Stored>> {
  const rule = parseRule(draft.rule);
  if (!rule.ok) return rule;
  const replaced = draft.supersedesId ? await replaceable(tx, draft.supersedesId) : null;
  if (replaced === 'not replaceable') {
    return failure([
      {
        field: 'supersedes',
        message: 'The earlier issue is not on record, or is replaced already.',
        mend: 'Choose the issue that is in force.',
      },
    ]);
  }
  const [row] = await tx
    .insert(bulletin)
    .values({ ...draft, rule: rule.value, enteredBy: actor.personId, enteredAt: now })
    .returning();
  if (!row) throw new Error('the bulletin was not stored');
  const units = await factsInQuestion(
    tx,
    compileRule(rule.value, localDay(now, 'UTC')),
    replaced ? partsOf(row) : [],
  );
  const earlier = replaced ? await earlierWork(tx, replaced.id, units) : undefined;
  const judge = { now, isCorrection: false, isNew: true, ...(earlier && { earlier }) };
  const changed = await judgeBulletin(tx, row, units, judge);
  if (replaced) await supersede(tx, replaced, row, { actor, now });
  const isMarkTouched = row.kind === 'mandatory' || replaced !== null;
  // What is undecided asks nothing of a unit yet.
  const open = changed.flatMap(({ unitId, to }) => (to === 'open' ? [unitId] : []));
  const touched = new Set([...open, ...(earlier?.keys() ?? [])]);
  return success({
    bulletinId: row.id,
    unitsCovered: changed.length,
    marksTouched: isMarkTouched ? [...touched].sort() : [],
    noted: {
      number: row.number,
      issue: row.issue,
      kind: row.kind,
      rule: JSON.parse(JSON.stringify(rule.value)),
      requiredParts: requiredPartsInWords(row.requiredParts),
      source: row.source,
      supersedes: replaced && `${replaced.number} issue ${replaced.issue}`,
      doesDoneCarry: row.doesDoneCarry,
      unitsTouched: changed.length,
    },
  });
}

async function replaceable(tx: Tx, id: string): Promise<BulletinRow | 'not replaceable'> {
  const [row] = await tx.select().from(bulletin).where(eq(bulletin.id, id));
  const [later] = await tx
    .select({ id: bulletin.id })
    .from(bulletin)
    .where(eq(bulletin.supersedesId, id));
  return row && !later ? row : 'not replaceable';
}

/** Superseded is final, so every unit under the earlier issue is taken along at once. */
async function supersede(
  tx: Tx,
  replaced: BulletinRow,
  { number, issue }: BulletinRow,
  { actor, now }: Pick<StoreBulletin, 'actor' | 'now'>,
): Promise<void> {
  await tx
    .update(bulletinUnit)
    .set({
      status: 'superseded',
      statusReason: `replaced by ${number}, issue ${issue}`,
      statusBy: actor.personId,
      statusAt: now,
      reviewOn: null,
    })
    .where(eq(bulletinUnit.bulletinId, replaced.id));
}

const partsOf = ({ requiredParts }: Pick<BulletinRow, 'requiredParts'>) =>
  requiredParts.map(({ part }) => `${part} revision` as const);
