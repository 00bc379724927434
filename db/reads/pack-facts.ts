import { type Actor, requirePermission } from '@/lib/access';
import type { PackFacts, PackScope } from '@/lib/outflow/pack/pack-facts';
import { failure, type Result, success } from '@/lib/result';
import type { Db } from '../client';
import { countLedgerEntries, ledgerEntries } from './ledger-entries';
import { packEvidence } from './pack-evidence';
import { packRecord } from './pack-record';
import { mostRows, type PackSpan } from './pack-span';
import { packPurges, packUnits } from './pack-units';

export type PackRefusal =
  | { readonly is: 'nothing asked' }
  | { readonly is: 'unknown unit' }
  /** A shorter period, or one unit, makes a pack that can be read. */
  | { readonly is: 'too long'; readonly rows: number };

const dayMs = 86_400_000;
const farAhead = new Date('9999-01-01T00:00:00Z');

/** All that a pack holds, read at one instant. */
export async function packFacts(
  db: Db,
  actor: Actor,
  scope: PackScope,
): Promise<Result<PackFacts, PackRefusal>> {
  requirePermission(actor, "make an auditor's pack");
  const { unitId, from, to } = scope;
  if (unitId === null && (from === null || to === null)) return failure({ is: 'nothing asked' });
  const span: PackSpan = {
    unitId,
    from: new Date(from === null ? 0 : `${from}T00:00:00Z`),
    until: to === null ? farAhead : new Date(Date.parse(`${to}T00:00:00Z`) + dayMs),
  };
  return db.transaction(
    async (tx): Promise<Result<PackFacts, PackRefusal>> => {
      const query = { unitId: unitId ?? undefined, from: span.from, until: span.until };
      const counted = await countLedgerEntries(tx, actor, query);
      if (counted > mostRows) return failure({ is: 'too long', rows: counted });
      const entries = await ledgerEntries(tx, actor, query, { limit: mostRows, offset: 0 });
      const evidence = await packEvidence(tx, span);
      const record = await packRecord(tx, span);
      const rows = [entries, ...Object.values(evidence), ...Object.values(record)].reduce(
        (sum, { length }) => sum + length,
        0,
      );
      if (rows > mostRows) return failure({ is: 'too long', rows });
      const named = [
        ...(unitId === null ? [] : [unitId]),
        ...[evidence.readings, evidence.verdicts, ...Object.values(record)].flatMap((own) =>
          own.map((row) => row.unitId),
        ),
      ];
      const units = await packUnits(tx, [...new Set(named)]);
      if (unitId !== null && units.length === 0) return failure({ is: 'unknown unit' });
      const ofEntries = entries.flatMap((entry) => entry.unitId ?? []);
      const purges = await packPurges(tx, [...new Set([...named, ...ofEntries])]);
      const oldestFirst = entries.toReversed();
      return success({ scope, units, entries: oldestFirst, purges, ...evidence, ...record });
    },
    { isolationLevel: 'repeatable read', accessMode: 'read only' },
  );
}
