import { and, asc, eq, inArray, isNull, sql } from 'drizzle-orm';
import type { Actor } from '@/lib/access';
import type { ImportKind } from '@/lib/intake/import/import-fields';
import type { Tx } from '../client';
import { bulletinUnit, fitment, importRow, type TouchedFacts, unit } from '../schema';
import { moveBulletin } from './move-bulletin';

const touchedBy: Readonly<
  Record<ImportKind, { readonly touched: TouchedFacts; readonly isCorrection: boolean }>
> = {
  units: { touched: 'any', isCorrection: true },
  fitments: { touched: 'parts', isCorrection: false },
  readings: { touched: 'readings', isCorrection: false },
  'work orders': { touched: 'age', isCorrection: false },
};

interface Imported {
  readonly importId: string;
  readonly kind: ImportKind;
  readonly now: Date;
}

const rowsPut = (importId: string) =>
  and(eq(importRow.importId, importId), inArray(importRow.outcome, ['new', 'changed']));

/** The units that an import touches, by id. */
const importedUnits = ({ importId, kind }: Pick<Imported, 'importId' | 'kind'>) =>
  kind === 'readings'
    ? sql`select distinct unit_id as id from import_reading where import_id = ${importId}`
    : sql`select distinct coalesce(row ->> 'unit_id', row ->> 'id') as id from import_row
        where import_id = ${importId} and outcome in ('new', 'changed')`;

/**
 * Locks those of them that are on record already, where the import may change what others do of a unit.
 * Readings change nothing: whoever records one at the same time does not wait for half a million of them.
 */
export async function lockImportedUnits(tx: Tx, imported: Imported): Promise<void> {
  if (imported.kind === 'readings') return;
  await tx
    .select({ id: unit.id })
    .from(unit)
    .where(sql`${unit.id} in (${importedUnits(imported)})`)
    .orderBy(asc(unit.id))
    .for('no key update');
}

/** Leaves its units to the sweep, which judges their bulletins and then them, some at a time. */
export async function leaveToSweep(tx: Tx, imported: Imported): Promise<void> {
  const { touched, isCorrection } = touchedBy[imported.kind];
  await tx.execute(sql`
    insert into judging_due (unit_id, since, touched, is_correction)
    select id, ${imported.now.toISOString()}::timestamptz, ${touched}, ${isCorrection}
    from (${importedUnits(imported)}) as units order by id
    on conflict (unit_id) do update set
      touched = case when judging_due.touched in ('nothing', 'age', excluded.touched) then excluded.touched
        when excluded.touched = 'age' then judging_due.touched else 'any' end,
      is_correction = judging_due.is_correction or excluded.is_correction`);
}

/** A part fitted since a bulletin was settled undoes it, unless the bulletin asks for that revision. */
export async function noteImportedParts(
  tx: Tx,
  { importId, kind, now }: Imported,
  actor: Actor,
): Promise<void> {
  if (kind !== 'fitments') return;
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
