import type { Metadata } from 'next';
import { requireSignIn } from '@/app/_session';
import { Shell } from '@/app/_shell';
import { database } from '@/db/handle';
import { savedViews } from '@/db/reads/saved-views';
import { yardChoices } from '@/db/reads/yard-choices';
import { may } from '@/lib/access';
import { readYardQuery } from '@/lib/intake/yard-query';
import { listYard } from './list-yard';
import { searchOf } from './search-of';
import { YardView } from './yard-view';

export const metadata: Metadata = { title: 'Yard' };

export default async function YardPage({ searchParams }: PageProps<'/yard'>) {
  const search = searchOf(await searchParams);
  const person = await requireSignIn(`/yard?${search}`);
  const query = readYardQuery(search);
  const row = search.get('row') ?? undefined;
  const initial = await listYard(person, query, { row }, new Date());
  const { db } = await database();
  const choices = await yardChoices(db, person);
  const views = await savedViews(db, person);
  return (
    <Shell person={person}>
      <YardView
        initial={initial}
        choices={choices}
        views={views}
        units={{ pressure: person.pressureUnit, distance: person.distanceUnit }}
        mayPlan={may(person, 'plan')}
      />
    </Shell>
  );
}
