import type { DayNumber } from '@/lib/measure';

/** One revision of a part that the fleet keeps. */
export interface PartStock {
  readonly partNumber: string;
  readonly revision: string;
  readonly description: string;
  /** Revision of the same part number that replaces it. */
  readonly supersededBy: string | null;
  readonly inStock: number;
  readonly leadTimeDays: number;
}

/** One part for one piece of work. */
export interface PartNeed {
  readonly partNumber: string;
  /** Oldest revision that will do; null where any does. */
  readonly revision: string | null;
  readonly neededOn: DayNumber;
  /** 1 for placed work, the chance of the work for a forecast. */
  readonly probability: number;
}

/** Revisions of one part that replace one another, oldest first; a newer one does wherever an older would. */
export type Lineage = readonly PartStock[];

/** A part list sorted into lineages. A revision said to replace itself, by whatever way round, ends its lineage. */
export function lineagesOf(stock: readonly PartStock[]): Lineage[] {
  const keyOf = (partNumber: string, revision: string): string => `${partNumber}\n${revision}`;
  const byKey = new Map(stock.map((part) => [keyOf(part.partNumber, part.revision), part]));
  const newestOf = (part: PartStock): { newest: PartStock; steps: number } => {
    const seen = new Set<PartStock>();
    let newest = part;
    while (newest.supersededBy !== null && !seen.has(newest)) {
      seen.add(newest);
      const next = byKey.get(keyOf(newest.partNumber, newest.supersededBy));
      if (!next || seen.has(next)) break;
      newest = next;
    }
    return { newest, steps: seen.size };
  };
  const lineages = new Map<PartStock, { part: PartStock; steps: number }[]>();
  for (const part of stock) {
    const { newest, steps } = newestOf(part);
    lineages.set(newest, [...(lineages.get(newest) ?? []), { part, steps }]);
  }
  return [...lineages.values()].map((members) =>
    members.sort((a, b) => b.steps - a.steps).map(({ part }) => part),
  );
}

/** The lineage that a need draws on and the first of its revisions that will do; null when not on the list. */
export function lineageFor(
  lineages: readonly Lineage[],
  need: Pick<PartNeed, 'partNumber' | 'revision'>,
): { readonly lineage: Lineage; readonly from: number } | null {
  for (const lineage of lineages) {
    const from = lineage.findIndex(
      ({ partNumber, revision }) =>
        partNumber === need.partNumber && (need.revision === null || revision === need.revision),
    );
    if (from >= 0) return { lineage, from };
  }
  return null;
}
