import { EmptyState } from '@/app/_ui/empty-state';
import type { MarkCounts } from '@/db/reads/mark-counts';
import { firstYardQuery, writeYardQuery, type YardQuery } from '@/lib/intake/yard-query';

/** Says what has no unit: the fleet, the mark, or what was asked for. */
export function EmptyYard({ query, counts }: { query: YardQuery; counts: MarkCounts }) {
  const isOfAnyMark =
    counts.withoutMark > 0 || Object.values(counts.byMark).some((units) => units > 0);
  if (isOfAnyMark) return <EmptyState>No unit in this mark.</EmptyState>;
  const { mark, sort, isDescending } = firstYardQuery;
  const isNarrowed = writeYardQuery({ ...query, mark, sort, isDescending }).size > 0;
  return (
    <EmptyState>
      {isNarrowed
        ? 'No unit matches.'
        : 'No unit in use is on record. A fleet manager imports units from a file.'}
    </EmptyState>
  );
}
