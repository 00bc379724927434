import type { Metadata } from 'next';
import { forbidden } from 'next/navigation';
import { requireSignIn } from '@/app/_session';
import { Shell } from '@/app/_shell';
import { EmptyState } from '@/app/_ui/empty-state';
import { Link } from '@/app/_ui/link';
import { Page } from '@/app/_ui/page';
import { Panel } from '@/app/_ui/panel';
import { database } from '@/db/handle';
import { markCounts, rowsListed } from '@/db/reads/mark-counts';
import { yardPage } from '@/db/reads/yard-page';
import { yardRows } from '@/db/reads/yard-rows';
import { may } from '@/lib/access';
import { readYardQuery, writeYardQuery } from '@/lib/intake/yard-query';
import { nextWords, whyWords } from '../row-words';
import { searchOf } from '../search-of';
import { AllForm } from './all-form';
import { ChooseForm } from './choose-form';
import { unitsAtMost, unitsListed } from './units-at-most';

export const metadata: Metadata = { title: 'Choose units' };

interface ChoosePageProps {
  readonly searchParams: Promise<Record<string, string | string[] | undefined>>;
}

/** The yard's list with a box to tick before each unit, for work on many at once. */
export default async function ChoosePage({ searchParams }: ChoosePageProps) {
  const query = readYardQuery(searchOf(await searchParams));
  const person = await requireSignIn('/yard/choose');
  if (!may(person, 'plan')) forbidden();
  const { db } = await database();
  const counts = await markCounts(db, person, query);
  const total = rowsListed(counts, query);
  const place = { after: null, skip: 0, limit: unitsListed, isEachJudged: counts.isEachJudged };
  const { unitIds } = await yardPage(db, person, query, place);
  const rows = await yardRows(db, unitIds);
  const units = { pressure: person.pressureUnit, distance: person.distanceUnit };
  return (
    <Shell person={person}>
      <Page
        title="Choose units"
        above={<Link href={`/yard?${writeYardQuery(query)}`}>Yard</Link>}
        lede={
          total > rows.length
            ? `The first ${rows.length} of ${total} in the list.`
            : `${total} in the list.`
        }
      >
        <div className="stack">
          {total > rows.length && (
            <Panel title={`All ${total} in the list`}>
              {total <= unitsAtMost ? (
                <AllForm list={writeYardQuery(query).toString()} counted={total} />
              ) : (
                <p>
                  More than the {unitsAtMost} that are placed or scheduled at once: filter the yard
                  first.
                </p>
              )}
            </Panel>
          )}
          <Panel>
            {rows.length === 0 ? (
              <EmptyState>No unit in this list.</EmptyState>
            ) : (
              <ChooseForm
                rows={rows.map((row) => ({
                  unit: row.unit,
                  shed: row.shed,
                  mark: row.mark,
                  why: whyWords(row.reason, units),
                  next: nextWords(row),
                }))}
              />
            )}
          </Panel>
        </div>
      </Page>
    </Shell>
  );
}
