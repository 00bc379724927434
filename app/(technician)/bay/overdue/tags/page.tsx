import type { Metadata } from 'next';
import { environment } from '@/app/_environment';
import { requireSignIn } from '@/app/_session';
import { Shell } from '@/app/_shell';
import { EmptyState } from '@/app/_ui/empty-state';
import { isoDate } from '@/app/_ui/format';
import { Page } from '@/app/_ui/page';
import { PrintButton } from '@/app/_ui/print-button';
import { TagSheet } from '@/app/_ui/tag-sheet';
import { database } from '@/db/handle';
import { bayOverdue } from '@/db/reads/bay-overdue';

export const metadata: Metadata = { title: 'Tags of units overdue' };

/** A tag to hang in the cab of each unit whose reading is due, until it has been read. */
export default async function OverdueTagsPage({ searchParams }: PageProps<'/bay/overdue/tags'>) {
  const { shed } = await searchParams;
  const person = await requireSignIn(`/bay/overdue/tags?shed=${encodeURIComponent(`${shed}`)}`);
  const sheds = await bayOverdue((await database()).db, person, new Date());
  const tags = sheds
    .filter(({ id }) => shed === undefined || id === shed)
    .flatMap(({ name, units }) =>
      units.map(({ id, dueOn }) => ({
        unit: id,
        shed: name,
        note: `Reading due ${isoDate(dueOn)}`,
      })),
    );
  return (
    <Shell person={person}>
      <Page
        above={<a href="/bay/overdue">Readings overdue</a>}
        title={<span className="no-print">Tags of units overdue</span>}
        lede={<p className="no-print">Hang one in each cab until the unit has been read.</p>}
        actions={<PrintButton>Print</PrintButton>}
      >
        {tags.length === 0 ? (
          <EmptyState>Every unit of this shed has been read in time.</EmptyState>
        ) : (
          <TagSheet origin={environment().origin} tags={tags} />
        )}
      </Page>
    </Shell>
  );
}
