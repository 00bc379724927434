import type { Metadata } from 'next';
import { requireSignIn } from '@/app/_session';
import { Shell } from '@/app/_shell';
import { DownloadButton, LinkButton } from '@/app/_ui/button';
import { EmptyState } from '@/app/_ui/empty-state';
import { Page } from '@/app/_ui/page';
import { PrintButton } from '@/app/_ui/print-button';
import { database } from '@/db/handle';
import { unitsBeingJudged } from '@/db/imports/rows-in-question';
import {
  effectivity,
  effectivityCells,
  effectivityTotals,
  unitsUnderBulletin,
} from '@/db/reads/effectivity';
import { may } from '@/lib/access';
import { BuildRangeMatrix, pageOfRanges } from './build-range-matrix';
import { ChosenCell } from './chosen-cell';
import styles from './effectivity.module.css';

export const metadata: Metadata = { title: 'Effectivity' };

interface EffectivityPageProps {
  readonly searchParams: Promise<{
    readonly range?: string;
    readonly bulletin?: string;
    readonly status?: string;
    /** Page of the build ranges, and of the units behind the chosen cell. */
    readonly rows?: string;
    readonly page?: string;
  }>;
}

export default async function EffectivityPage({ searchParams }: EffectivityPageProps) {
  const chosen = await searchParams;
  const person = await requireSignIn('/effectivity');
  const { db } = await database();
  const { bulletins, unitIds, rows: ranges } = await effectivity(db, person, new Date());
  const bulletin = bulletins.find(({ id }) => id === chosen.bulletin);
  const range = ranges.find(({ name }) => name === chosen.range);
  const units = range && new Set(range.units.map((index) => unitIds[index]));
  const shown = pageOfRanges(ranges, Number(chosen.rows) || 1);
  const [totalOf, countsOf, judged] = await Promise.all([
    effectivityTotals(db, person),
    effectivityCells(db, unitIds, shown.rows),
    unitsBeingJudged(db),
  ]);
  const pairs = bulletin
    ? (await unitsUnderBulletin(db, person, bulletin.id)).filter(
        ({ unitId, status }) =>
          (!units || units.has(unitId)) && (!chosen.status || status === chosen.status),
      )
    : [];
  const search = new URLSearchParams(
    Object.entries(chosen).flatMap(([name, value]) =>
      typeof value === 'string' ? [[name, value]] : [],
    ),
  );
  return (
    <Shell person={person}>
      <Page
        title="Effectivity"
        lede="Which bulletin covers which build range. A cell counts units; choose it to list them."
        actions={
          <>
            {may(person, 'edit bulletins') && (
              <>
                <LinkButton href="/effectivity/new" main>
                  Add bulletin
                </LinkButton>
                <LinkButton href="/effectivity/import">Import bulletins</LinkButton>
              </>
            )}
            <LinkButton href="/effectivity/undecided">Undecided</LinkButton>
            {may(person, 'export') && (
              <DownloadButton href={`/effectivity/csv?${search}`}>Export CSV</DownloadButton>
            )}
            <PrintButton>Print</PrintButton>
          </>
        }
      >
        {bulletins.length === 0 ? (
          <EmptyState>No bulletins.</EmptyState>
        ) : (
          <div className={styles.columns}>
            <p className={styles.key}>
              <b>■</b> open, <b>□</b> planned, <b>?</b> undecided: a fact is missing, <b>✕</b>{' '}
              refused, <b>☑</b> done or not needed, <b>↳</b> superseded, <b>·</b> not this range
            </p>
            {judged > 0 && (
              <p>
                {judged} units are being judged: their marks do not know of the newest import or
                bulletin yet, nor the counts of an import.
              </p>
            )}
            {unitIds.length === 0 && (
              <p>No unit to count: none is on record in the sheds that you see.</p>
            )}
            <BuildRangeMatrix
              bulletins={bulletins}
              shown={shown}
              units={unitIds.length}
              countsOf={countsOf}
              totalOf={totalOf}
              chosen={{ range, bulletin }}
            />
            {bulletin && (
              <ChosenCell
                key={search.toString()}
                bulletin={bulletin}
                range={range?.name ?? 'all build ranges'}
                pairs={pairs}
                page={Number(chosen.page) || 1}
                hrefFor={(page) => {
                  search.set('page', String(page));
                  return `/effectivity?${search}#chosen`;
                }}
                mayPlan={may(person, 'plan')}
              />
            )}
          </div>
        )}
      </Page>
    </Shell>
  );
}
