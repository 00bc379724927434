import { and, eq } from 'drizzle-orm';
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
  const [known] = await db
    .select({ mapping: importMapping.mapping })
    .from(importMapping)
    .where(and(eq(importMapping.kind, kind), eq(importMapping.headerDigest, headerDigest(header))));
  const mapping = columnMapping.safeParse(known?.mapping);
  return mapping.success
    ? { mapping: mapping.data, isRemembered: true }
    : { mapping: guessMapping(kind, header), isRemembered: false };
}

export async function rememberMapping(
  db: Db,
  kind: ImportKind,
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
