import { and, asc, count, eq, gt, inArray } from 'drizzle-orm';
import { type Actor, requirePermission } from '@/lib/access';
import { csvRecord } from '@/lib/outflow/csv';
import type { Db } from '../client';
import { importRow, judgingDue } from '../schema';
import { importRunOf } from './keep-file';

const rowsAtATime = 2_000;

/**
 * The refused rows of an import as a file, or the odd ones that stand as written: why, and then the
 * cells as they came, so that a person can mend and send them again. Null where there is no such import.
 */
export async function rowsInQuestion(
  db: Db,
  actor: Actor,
  importId: string,
  which: 'refused' | 'odd',
): Promise<AsyncGenerator<string> | null> {
  requirePermission(actor, 'import');
  const run = await importRunOf(db, actor, importId);
  if (!run) return null;
  return records(db, importId, which, run.header ?? []);
}

async function* records(
  db: Db,
  importId: string,
  which: 'refused' | 'odd',
  header: readonly string[],
): AsyncGenerator<string> {
  yield csvRecord(['line', 'column', 'reason', 'mend', ...header]);
  let after = -1;
  for (;;) {
    const rows = await db
      .select()
      .from(importRow)
      .where(
        and(
          eq(importRow.importId, importId),
          gt(importRow.line, after),
          inArray(importRow.outcome, which === 'refused' ? ['refused'] : ['new', 'changed']),
        ),
      )
      .orderBy(asc(importRow.line))
      .limit(rowsAtATime);
    for (const { line, problems, cells } of rows) {
      if (!problems?.length) continue;
      const said = (of: 'field' | 'message' | 'mend') => problems.map((one) => one[of]).join(' | ');
      yield csvRecord([line, said('field'), said('message'), said('mend'), ...(cells ?? [])]);
    }
    if (rows.length < rowsAtATime) return;
    after = rows.at(-1)?.line ?? after;
  }
}

/** Units whose verdict does not know of an import or a bulletin yet. */
export async function unitsBeingJudged(db: Db): Promise<number> {
  const [row] = await db.select({ units: count() }).from(judgingDue);
  return row?.units ?? 0;
}
