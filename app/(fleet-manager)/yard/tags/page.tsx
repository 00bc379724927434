import type { Metadata } from 'next';
import { environment } from '@/app/_environment';
import { requireSignIn } from '@/app/_session';
import { Shell } from '@/app/_shell';
import { counted } from '@/app/_ui/format';
import { Link } from '@/app/_ui/link';
import { Page } from '@/app/_ui/page';
import { PrintButton } from '@/app/_ui/print-button';
import { TagSheet } from '@/app/_ui/tag-sheet';
import { database } from '@/db/handle';
import { markCounts, rowsListed } from '@/db/reads/mark-counts';
import { yardPage } from '@/db/reads/yard-page';
import { yardRows } from '@/db/reads/yard-rows';
import { readYardQuery, writeYardQuery } from '@/lib/intake/yard-query';
import { EmptyYard } from '../empty-yard';
import { searchOf } from '../search-of';

export const metadata: Metadata = { title: 'Unit tags' };

/** Some thirty sheets of paper. */
const most = 300;

/** A tag for each unit of the filtered yard, to hang in the cab: its number, and the way to its bay card. */
export default async function TagsPage({ searchParams }: PageProps<'/yard/tags'>) {
  const search = searchOf(await searchParams);
  const person = await requireSignIn(`/yard/tags?${search}`);
  const query = readYardQuery(search);
  const { db } = await database();
  const counts = await markCounts(db, person, query);
  const total = rowsListed(counts, query);
  const { unitIds } = await yardPage(db, person, query, { after: null, skip: 0, limit: most });
  const rows = await yardRows(db, unitIds);
  return (
    <Shell person={person}>
      <Page
        above={<Link href={`/yard?${writeYardQuery(query)}`}>Yard</Link>}
        title={<span className="no-print">Unit tags</span>}
        lede={
          <p className="no-print">
            {counted(total, 'unit', 'units')}
            {total > most && `; the first ${most} are here: narrow the yard for more`}. The code
            opens the bay card on the unit.
          </p>
        }
        actions={<PrintButton>Print</PrintButton>}
      >
        {rows.length === 0 ? (
          <EmptyYard query={query} counts={counts} />
        ) : (
          <TagSheet origin={environment().origin} tags={rows} />
        )}
      </Page>
    </Shell>
  );
}
