import { eq } from 'drizzle-orm';
import { type Actor, requirePermission } from '@/lib/access';
import type { BulletinRead } from '@/lib/intake/bulletin-rows';
import { canonicalJson, type Json } from '@/lib/ledger/canonical-json';
import { failure, type Problem, type Result, success } from '@/lib/result';
import type { Db, Tx } from '../client';
import { appendToLedger, holdingLedger, sha256 } from '../ledger';
import { judgeFewMarks } from '../record/judge-few-marks';
import { storeBulletin } from '../record/store-bulletin';
import { bulletin } from '../schema';
import { inTransaction, lockFleet } from '../transaction';

export interface BulletinsImported {
  readonly entered: number;
  /** On record already, word for word. */
  readonly unchanged: number;
  readonly unitsCovered: number;
  /** Units whose marks they may change that are left to the sweep. */
  readonly toJudge: number;
}

interface ImportBulletins {
  readonly actor: Actor;
  readonly bulletins: readonly BulletinRead[];
  /** Tries everything and keeps nothing. */
  readonly isDryRun: boolean;
  readonly now: Date;
}

class Undone extends Error {}

/** Enters all bulletins of a file, or none: one ledger entry with the digest of what was read. */
export async function importBulletins(
  db: Db,
  { actor, bulletins, isDryRun, now }: ImportBulletins,
): Promise<Result<BulletinsImported>> {
  requirePermission(actor, 'edit bulletins');
  requirePermission(actor, 'import');
  let result: Result<BulletinsImported> | null = null;
  try {
    return await inTransaction(db, async (tx) => {
      await lockFleet(tx);
      result = await enterAll(tx, { actor, bulletins, isDryRun, now });
      if (isDryRun || !result.ok) throw new Undone();
      return result;
    });
  } catch (error) {
    if (error instanceof Undone && result) return result;
    throw error;
  }
}

async function enterAll(
  tx: Tx,
  { actor, bulletins, now }: ImportBulletins,
): Promise<Result<BulletinsImported>> {
  const problems: Problem[] = [];
  const noted: Json[] = [];
  const marksTouched = new Set<string>();
  let [unchanged, unitsCovered] = [0, 0];
  for (const { line, supersedes, ...draft } of bulletins) {
    const earlier = supersedes && (await onRecord(tx, supersedes));
    const same = await onRecord(tx, draft);
    if (same) {
      if (isSame(same, { ...draft, supersedesId: earlier?.id ?? null })) unchanged++;
      else {
        problems.push({
          field: 'number',
          line,
          value: draft.number,
          message: `Issue ${draft.issue} of it is on record with other words.`,
          mend: 'Give the changed text an issue of its own that supersedes the earlier one.',
        });
      }
      continue;
    }
    if (supersedes && !earlier) {
      problems.push({
        field: 'supersedes_number',
        line,
        value: supersedes.number,
        message: `Issue ${supersedes.issue} of it is not on record.`,
        mend: 'Put the earlier issue above it in the file, or enter it first.',
      });
      continue;
    }
    const stored = await storeBulletin(tx, {
      actor,
      draft: { ...draft, supersedesId: earlier?.id ?? null },
      now,
    });
    if (!stored.ok) {
      problems.push(...stored.error.map((problem) => ({ ...problem, line })));
      continue;
    }
    unitsCovered += stored.value.unitsCovered;
    noted.push(stored.value.noted);
    for (const unitId of stored.value.marksTouched) marksTouched.add(unitId);
  }
  if (problems.length > 0) return failure(problems);
  const entered = noted.length;
  if (entered === 0) return success({ entered, unchanged, unitsCovered, toJudge: 0 });
  return holdingLedger(tx, async () => {
    const digest = sha256(canonicalJson(noted));
    const payload = { digest, bulletins: noted, unchanged };
    await appendToLedger(tx, { kind: 'bulletins imported', actor, now, payload });
    const unitIds = [...marksTouched].sort();
    const toJudge = await judgeFewMarks(tx, { unitIds, actor, now, because: 'bulletins imported' });
    return success({ entered, unchanged, unitsCovered, toJudge });
  });
}

type Stored = typeof bulletin.$inferSelect;

async function onRecord(
  tx: Tx,
  { number, issue }: { readonly number: string; readonly issue: string },
): Promise<Stored | undefined> {
  const rows = await tx.select().from(bulletin).where(eq(bulletin.number, number));
  return rows.find((row) => row.issue === issue);
}

/** Every word of the draft is on record as it stands. */
const isSame = (stored: Stored, draft: Readonly<Record<string, unknown>>): boolean =>
  Object.entries(draft).every(
    ([name, value]) =>
      canonicalJson(asJson(stored[name as keyof Stored])) === canonicalJson(asJson(value)),
  );

const asJson = (value: unknown): Json => JSON.parse(JSON.stringify(value ?? null));
