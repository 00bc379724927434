'use client';

import { useSearchParams } from 'next/navigation';
import { useCallback, useEffect, useMemo, useRef } from 'react';
import { DownloadButton, LinkButton } from '@/app/_ui/button';
import { MarkCounts } from '@/app/_ui/mark-counts';
import { Page } from '@/app/_ui/page';
import { StatusLine } from '@/app/_ui/status-line';
import type { SavedView } from '@/db/reads/saved-views';
import type { YardChoices } from '@/db/reads/yard-choices';
import type { UnitsOfMeasure } from '@/lib/analysis/rules';
import { readYardQuery, writeYardQuery, type YardQuery } from '@/lib/intake/yard-query';
import { ColumnChoice } from './column-choice';
import { EmptyYard } from './empty-yard';
import type { YardList } from './list-yard';
import { SavedViews } from './saved-views';
import { useYardList } from './use-yard-list';
import styles from './yard.module.css';
import { type ColumnId, choosable, firstColumns } from './yard-columns';
import { YardFilters } from './yard-filters';
import { YardTable } from './yard-table';

interface YardViewProps {
  readonly initial: YardList;
  readonly choices: YardChoices;
  readonly views: readonly SavedView[];
  readonly units: UnitsOfMeasure;
  readonly mayPlan: boolean;
}

const pathTo = (address: URLSearchParams): string =>
  address.size > 0 ? `/yard?${address}` : '/yard';

/** Filters, order and columns live in the address; the table follows it. */
export function YardView({ initial, choices, views, units, mayPlan }: YardViewProps) {
  const params = useSearchParams();
  const query = useMemo(() => readYardQuery(new URLSearchParams(params)), [params]);
  const columns = useMemo(() => columnsOf(params.get('columns')), [params]);
  const address = writeYardQuery(query).toString();
  const row = params.get('row');
  const { yard, isWanted, need, refresh } = useYardList(initial, address, row);
  const inSight = useRef<readonly number[]>([0]);

  const pathFor = useCallback(
    (next: YardQuery, chosen: readonly ColumnId[] = columns) => {
      const search = writeYardQuery(next);
      if (chosen !== firstColumns) search.set('columns', chosen.join(' '));
      return search;
    },
    [columns],
  );

  function show(next: YardQuery, isTyping = false) {
    const path = pathTo(pathFor(next));
    if (isTyping) window.history.replaceState(null, '', path);
    else window.history.pushState(null, '', path);
  }

  function leaveFor(unit: string) {
    const search = pathFor(query);
    search.set('row', unit);
    window.history.replaceState(null, '', pathTo(search));
  }

  const onSight = useCallback(
    (pages: readonly number[]) => {
      inSight.current = pages;
      need(pages);
    },
    [need],
  );

  useEffect(() => {
    const again = () => {
      if (document.visibilityState === 'visible') void refresh(inSight.current);
    };
    document.addEventListener('visibilitychange', again);
    window.addEventListener('online', again);
    return () => {
      document.removeEventListener('visibilitychange', again);
      window.removeEventListener('online', again);
    };
  }, [refresh]);

  const shown = pathFor(query).toString();
  return (
    <Page
      title="Yard"
      actions={
        <>
          {mayPlan && (
            <LinkButton href={`/yard/choose?${address}`}>Place or schedule many</LinkButton>
          )}
          <DownloadButton href={`/api/v1/units/csv?${address}`}>Export CSV</DownloadButton>
          <LinkButton href={`/yard/print?${shown}`}>Print this list</LinkButton>
          <LinkButton href={`/yard/tags?${shown}`}>Unit tags</LinkButton>
        </>
      }
    >
      <div className={styles.view}>
        <MarkCounts
          counts={yard.counts.byMark}
          chosen={query.mark}
          hrefFor={(mark) => pathTo(pathFor({ ...query, mark, standing: 'in use' }))}
        />
        <div className={styles.tools}>
          <YardFilters query={query} choices={choices} onChange={show} />
          <div className={styles.looks}>
            <SavedViews views={views} address={shown} />
            <ColumnChoice
              columns={columns}
              onChange={(chosen) =>
                window.history.replaceState(null, '', pathTo(pathFor(query, chosen)))
              }
            />
          </div>
        </div>
        <StatusLine>
          {yard.isStale ? (
            <>
              As of {yard.asOf}, not refreshed.{' '}
              <button type="button" onClick={() => void refresh(inSight.current)}>
                Try again
              </button>
            </>
          ) : (
            `${yard.total.toLocaleString('en-US')} ${yard.total === 1 ? 'unit' : 'units'}, as of ${yard.asOf}`
          )}
        </StatusLine>
        {yard.total === 0 && !isWanted ? (
          <EmptyYard query={query} counts={yard.counts} />
        ) : (
          <YardTable
            yard={yard}
            units={units}
            columns={columns}
            sort={query.sort}
            isDescending={query.isDescending}
            row={row}
            onSort={(sort, isDescending) => show({ ...query, sort, isDescending })}
            onOpen={leaveFor}
            onSight={onSight}
          />
        )}
      </div>
    </Page>
  );
}

function columnsOf(text: string | null): readonly ColumnId[] {
  if (text === null) return firstColumns;
  const asked = text.split(/[ +]/);
  return choosable.filter((id) => asked.includes(id));
}
