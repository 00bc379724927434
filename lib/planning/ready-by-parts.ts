import type { DayNumber } from '@/lib/measure';
import { lineageFor, lineagesOf, type PartNeed, type PartStock } from '@/lib/planning/part-stock';

export interface JobParts {
  readonly jobId: string;
  readonly wantedBy: DayNumber | null;
  readonly parts: readonly Pick<PartNeed, 'partNumber' | 'revision'>[];
}

/**
 * Day from which each job has its parts: stock goes to the work wanted first, oldest revision that
 * will do first; what is short is there a lead time after `asOf`. Null where a part is not on the
 * list and so no date can be given.
 */
export function readyByParts(
  jobs: readonly JobParts[],
  stock: readonly PartStock[],
  asOf: DayNumber,
): ReadonlyMap<string, DayNumber | null> {
  const lineages = lineagesOf(stock);
  const left = new Map(stock.map((part) => [part, part.inStock]));
  const dayOf = (need: JobParts['parts'][number]): DayNumber | null => {
    const found = lineageFor(lineages, need);
    if (!found) return null;
    const usable = found.lineage.slice(found.from);
    const taken = usable.find((part) => (left.get(part) ?? 0) > 0);
    if (!taken) return asOf + usable.at(-1)!.leadTimeDays;
    left.set(taken, left.get(taken)! - 1);
    return asOf;
  };
  const wanted = ({ wantedBy }: JobParts): number => wantedBy ?? Number.MAX_SAFE_INTEGER;
  const inOrder = [...jobs].sort((a, b) => wanted(a) - wanted(b));
  return new Map(
    inOrder.map(({ jobId, parts }) => {
      const days = parts.map(dayOf);
      const known = days.filter((day) => day !== null);
      return [jobId, known.length < days.length ? null : Math.max(asOf, ...known)];
    }),
  );
}
