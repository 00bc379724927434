import { and, asc, eq, inArray, isNull, sql } from 'drizzle-orm';
import type { Actor } from '@/lib/access';
import type { ImportKind } from '@/lib/intake/import/import-fields';
import type { Tx } from '../client';
import { bulletinUnit, fitment, importRow, type PutProgress, unit } from '../schema';
import { judgeBulletinsOfUnits, type TouchedFacts } from './judge-bulletins';
import { moveBulletin } from './move-bulletin';

const touchedBy: Readonly<
  Record<ImportKind, { readonly touched: TouchedFacts; readonly isCorrection: boolean } | null>
> = {
  units: { touched: 'any', isCorrection: true },
  fitments: { touched: 'parts', isCorrection: false },
  readings: { touched: 'readings', isCorrection: false },
  'work orders': null,
};

const unitsAtATime = 2_000;

interface JudgeImported {
  readonly importId: string;
  readonly kind: ImportKind;
  readonly actor: Actor;
  readonly now: Date;
  readonly report: (progress: PutProgress) => Promise<void>;
}

const rowsPut = (importId: string) =>
  and(eq(importRow.importId, importId), inArray(importRow.outcome, ['new', 'changed']));

/** The units that an import touches, by id. */
export const importedUnits = (importId: string) => sql`
  select unit_id as id from import_reading where import_id = ${importId}
  union select coalesce(row ->> 'unit_id', row ->> 'id') from import_row
  where import_id = ${importId} and outcome in ('new', 'changed') and row is not null`;

/** Locks those of them that are on record already. */
export const lockImportedUnits = (tx: Tx, importId: string) =>
  tx
    .select({ id: unit.id })
    .from(unit)
    .where(sql`${unit.id} in (${importedUnits(importId)})`)
    .orderBy(asc(unit.id))
    .for('update');

/** Judges the bulletins of the units that an import has touched, so that effectivity knows it at once. */
export async function judgeImported(tx: Tx, input: JudgeImported): Promise<void> {
  const { importId, kind, actor, now, report } = input;
  const touched = touchedBy[kind];
  if (!touched) return;
  if (kind === 'fitments') await noteImportedParts(tx, input);
  const ids = (await lockImportedUnits(tx, importId)).map(({ id }) => id);
  const judge = { ...touched, because: 'rows imported', actor, now };
  for (let from = 0; from < ids.length; from += unitsAtATime) {
    await report({ of: 'units whose bulletins are judged', done: from, total: ids.length });
    await judgeBulletinsOfUnits(tx, ids.slice(from, from + unitsAtATime), judge);
  }
}

/** A part fitted since a bulletin was settled undoes it, unless the bulletin asks for that revision. */
async function noteImportedParts(tx: Tx, { importId, actor, now }: JudgeImported): Promise<void> {
  const settled = await tx
    .select({
      bulletinId: bulletinUnit.bulletinId,
      unitId: bulletinUnit.unitId,
      part: fitment.part,
      revision: fitment.revision,
    })
    .from(importRow)
    .innerJoin(fitment, sql`${fitment.id} = (${importRow.row} ->> 'id')::uuid`)
    .innerJoin(bulletinUnit, eq(bulletinUnit.unitId, fitment.unitId))
    .where(
      and(
        rowsPut(importId),
        isNull(fitment.removedOn),
        inArray(bulletinUnit.status, ['done', 'not needed']),
        sql`${fitment.fittedOn} >= ${bulletinUnit.statusAt}::date`,
      ),
    );
  for (const { part, revision, ...pair } of settled) {
    const event = { type: 'part fitted', part, revision } as const;
    await moveBulletin(tx, { ...pair, event, fitted: [{ part, revision }], actor, now });
  }
}
