import { type BuildRange, buildRanges } from '@/lib/bulletins/build-ranges';
import { type BulletinStatus, bulletinStatuses } from '@/lib/bulletins/bulletin-state';
import { type CompiledRule, compileRule } from '@/lib/bulletins/condition';
import { judgeFleet } from '@/lib/bulletins/judge-fleet';
import type { Rule } from '@/lib/bulletins/rule';
import { applies, doesNot, type UnitColumns, undecided } from '@/lib/bulletins/unit-columns';
import type { DayNumber } from '@/lib/measure';

export interface EffectivityBulletin {
  readonly id: string;
  readonly rule: Rule;
  /** The later issue, where there is one. */
  readonly supersededBy: string | null;
}

/** What people have recorded; a pair that is left out stands as its rule answers. */
export interface RecordedStatus {
  readonly bulletin: string;
  readonly unit: string;
  readonly status: BulletinStatus;
}

export type StatusCounts = Readonly<Record<BulletinStatus, number>>;

export interface Effectivity {
  readonly rows: readonly BuildRange[];
  readonly cell: (row: number, bulletin: number) => StatusCounts;
  readonly total: (bulletin: number) => StatusCounts;
  /** Indexes of the units behind a cell, all of them or those of one status. */
  readonly unitsOf: (row: number, bulletin: number, status?: BulletinStatus) => readonly number[];
}

const codeOf = Object.fromEntries(bulletinStatuses.map((status, code) => [status, code])) as Record<
  BulletinStatus,
  number
>;

/** Status of every unit under one bulletin: what is recorded, otherwise what the rule answers. */
function statusesUnder(
  rule: CompiledRule,
  isReplaced: boolean,
  columns: UnitColumns,
  recorded: readonly RecordedStatus[],
): Uint8Array {
  const statusOf = new Uint8Array(3);
  statusOf[doesNot] = codeOf['does not apply'];
  statusOf[applies] = isReplaced ? codeOf.superseded : codeOf.open;
  statusOf[undecided] = isReplaced ? codeOf.superseded : codeOf.undecided;
  const statuses = judgeFleet(rule, columns);
  for (let unit = 0; unit < statuses.length; unit++) {
    statuses[unit] = statusOf[statuses[unit] ?? undecided] ?? codeOf.undecided;
  }
  if (recorded.length === 0 || isReplaced) return statuses;
  const indexOf = new Map(columns.units.map(({ unit }, index) => [unit, index]));
  for (const { unit, status } of recorded) {
    const index = indexOf.get(unit);
    // What is only computed is computed afresh; what people did stands.
    const isComputed = status === 'undecided' || status === 'does not apply';
    if (index !== undefined && !isComputed) statuses[index] = codeOf[status];
  }
  return statuses;
}

/**
 * The matrix of build ranges and bulletins. Each unit of a row is counted once under each bulletin,
 * by its status. With one bulletin it is the incremental answer for a bulletin just entered.
 */
export function effectivity(
  bulletins: readonly EffectivityBulletin[],
  columns: UnitColumns,
  recorded: readonly RecordedStatus[],
  asOf: DayNumber,
): Effectivity {
  const recordedUnder = new Map<string, RecordedStatus[]>();
  for (const row of recorded) {
    const rows = recordedUnder.get(row.bulletin) ?? [];
    rows.push(row);
    recordedUnder.set(row.bulletin, rows);
  }
  const rules = bulletins.map(({ rule }) => compileRule(rule, asOf));
  const statuses = bulletins.map(({ id, supersededBy }, index) =>
    statusesUnder(rules[index] ?? [], supersededBy !== null, columns, recordedUnder.get(id) ?? []),
  );
  const rows = buildRanges(rules, columns);

  const count = (units: Iterable<number>, bulletin: number): StatusCounts => {
    const counts = new Int32Array(bulletinStatuses.length);
    const codes = statuses[bulletin];
    for (const unit of units) {
      const code = codes?.[unit];
      if (code !== undefined) counts[code] = (counts[code] ?? 0) + 1;
    }
    return Object.fromEntries(
      bulletinStatuses.map((status, code) => [status, counts[code] ?? 0]),
    ) as Record<BulletinStatus, number>;
  };
  return {
    rows,
    cell: (row, bulletin) => count(rows[row]?.units ?? [], bulletin),
    total: (bulletin) => count(columns.units.keys(), bulletin),
    unitsOf: (row, bulletin, status) =>
      (rows[row]?.units ?? []).filter(
        (unit) => status === undefined || statuses[bulletin]?.[unit] === codeOf[status],
      ),
  };
}
