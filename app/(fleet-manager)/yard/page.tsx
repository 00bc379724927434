import type { Metadata } from 'next';
import { forbidden } from 'next/navigation';
import { Suspense } from 'react';
import { requireSignIn } from '@/app/_session';
import { Shell } from '@/app/_shell';
import { database } from '@/db/handle';
import type { SignedInPerson } from '@/db/reads/actor-of-person';
import { savedViews } from '@/db/reads/saved-views';
import { yardChoices } from '@/db/reads/yard-choices';
import { may } from '@/lib/access';
import { readYardQuery } from '@/lib/intake/yard-query';
import { listYard } from './list-yard';
import { searchOf } from './search-of';
import { YardOutline } from './yard-outline';
import { YardView } from './yard-view';

export const metadata: Metadata = { title: 'Yard' };

interface YardProps {
  readonly person: SignedInPerson;
  readonly search: URLSearchParams;
}

async function Yard({ person, search }: YardProps) {
  const query = readYardQuery(search);
  const row = search.get('row') ?? undefined;
  const initial = await listYard(person, query, { row }, new Date());
  const { db } = await database();
  const choices = await yardChoices(db, person);
  const views = await savedViews(db, person);
  return (
    <YardView
      initial={initial}
      choices={choices}
      views={views}
      units={{ pressure: person.pressureUnit, distance: person.distanceUnit }}
      mayPlan={may(person, 'plan')}
    />
  );
}

export default async function YardPage({ searchParams }: PageProps<'/yard'>) {
  const search = searchOf(await searchParams);
  const person = await requireSignIn(`/yard?${search}`);
  // Before anything is sent: a page under way can no longer answer 403.
  if (!may(person, 'see units')) forbidden();
  return (
    <Shell person={person}>
      <Suspense fallback={<YardOutline />}>
        <Yard person={person} search={search} />
      </Suspense>
    </Shell>
  );
}
