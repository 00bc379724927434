import { and, eq } from 'drizzle-orm';
import { type ColumnsHeld, guessBulletinColumns, leftOut } from '@/lib/intake/bulletin-columns';
import {
  type ColumnMapping,
  columnMapping,
  guessMapping,
} from '@/lib/intake/import/column-mapping';
import type { ImportKind } from '@/lib/intake/import/import-fields';
import type { Db } from '../client';
import { sha256 } from '../ledger';
import { importMapping } from '../schema';

const headerDigest = (header: readonly string[]) => sha256(JSON.stringify(header));

/** How a file with this header was last read; what its names say where none was read yet. */
export async function mappingFor(
  db: Db,
  kind: ImportKind,
  header: readonly string[],
): Promise<{ readonly mapping: ColumnMapping; readonly isRemembered: boolean }> {
  const remembered = await rememberedMapping(db, kind, header);
  return remembered
    ? { mapping: remembered, isRemembered: true }
    : { mapping: guessMapping(kind, header), isRemembered: false };
}

type MappedKind = ImportKind | 'bulletins';

async function rememberedMapping(
  db: Db,
  kind: MappedKind,
  header: readonly string[],
): Promise<ColumnMapping | null> {
  const [known] = await db
    .select({ mapping: importMapping.mapping })
    .from(importMapping)
    .where(and(eq(importMapping.kind, kind), eq(importMapping.headerDigest, headerDigest(header))));
  return columnMapping.safeParse(known?.mapping).data ?? null;
}

/** The same of a file of bulletins, as what each of its columns holds. */
export async function bulletinColumnsFor(
  db: Db,
  header: readonly string[],
): Promise<{ readonly held: ColumnsHeld; readonly isRemembered: boolean }> {
  const remembered = await rememberedMapping(db, 'bulletins', header);
  if (!remembered) return { held: guessBulletinColumns(header), isRemembered: false };
  const fieldOf = new Map(
    Object.entries(remembered.columns).map(([field, column]) => [column, field]),
  );
  return { held: header.map((column) => fieldOf.get(column) ?? leftOut), isRemembered: true };
}

export const rememberBulletinColumns = (
  db: Db,
  header: readonly string[],
  held: ColumnsHeld,
  now: Date,
): Promise<void> => rememberMapping(db, 'bulletins', header, mappingOfBulletins(header, held), now);

export async function rememberMapping(
  db: Db,
  kind: MappedKind,
  header: readonly string[],
  mapping: ColumnMapping,
  now: Date,
): Promise<void> {
  await db
    .insert(importMapping)
    .values({ kind, headerDigest: headerDigest(header), mapping, changedAt: now })
    .onConflictDoUpdate({
      target: [importMapping.kind, importMapping.headerDigest],
      set: { mapping, changedAt: now },
    });
}

function mappingOfBulletins(header: readonly string[], held: ColumnsHeld): ColumnMapping {
  const columns = header.flatMap((column, index) => {
    const field = held[index] ?? leftOut;
    return field === leftOut ? [] : [[field, column]];
  });
  return { columns: Object.fromEntries(columns), units: {}, decimal: 'point', encoding: 'utf-8' };
}
