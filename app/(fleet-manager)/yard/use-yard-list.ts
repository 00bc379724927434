'use client';

import { useCallback, useEffect, useRef, useState } from 'react';
import type { YardList } from './list-yard';

interface Page {
  readonly rows: YardList['rows'];
  readonly end: YardList['end'];
}

export interface LoadedYard extends Omit<YardList, 'page' | 'rows' | 'end'> {
  readonly pages: ReadonlyMap<number, Page>;
  /** The last attempt to hear from the server failed: these rows are as old as they say. */
  readonly isStale: boolean;
}

export const rowsAPage = 100;

const loadedFrom = ({ page, rows, end, ...rest }: YardList): LoadedYard => ({
  ...rest,
  pages: new Map([[page, { rows, end }]]),
  isStale: false,
});

export const rowAt = ({ pages }: LoadedYard, index: number): Page['rows'][number] | undefined =>
  pages.get(Math.floor(index / rowsAPage))?.rows[index % rowsAPage];

/** Place of a unit among the rows that are here. */
export function indexOf({ pages }: LoadedYard, unit: string | null): number | null {
  for (const [page, { rows }] of pages) {
    const at = rows.findIndex((row) => row.unit === unit);
    if (at >= 0) return page * rowsAPage + at;
  }
  return null;
}

/** What this browser showed last, so that Back finds the list as it was left. */
let lastShown: LoadedYard | null = null;

async function fetchList(address: string, place: Record<string, string>, signal?: AbortSignal) {
  const search = new URLSearchParams(address);
  for (const [name, value] of Object.entries(place)) search.set(name, value);
  const response = await fetch(`/api/v1/units?${search}`, { signal });
  if (!response.ok) throw new Error(`the yard answered ${response.status}`);
  return (await response.json()) as YardList;
}

/** The list at an address: the first page rendered by the server, the others fetched as they come in sight. */
export function useYardList(initial: YardList, address: string, row: string | null) {
  const [yard, setYard] = useState<LoadedYard>(() =>
    lastShown?.address === address ? lastShown : loadedFrom(initial),
  );
  const asked = useRef(new Set<string>());
  const wanted = useRef(address);
  const isWanted = yard.address !== address;

  useEffect(() => {
    wanted.current = address;
  }, [address]);

  useEffect(() => {
    lastShown = yard;
  }, [yard]);

  useEffect(() => {
    if (!isWanted) return;
    const stop = new AbortController();
    fetchList(address, row === null ? {} : { row }, stop.signal).then(
      (list) => setYard(loadedFrom(list)),
      () => !stop.signal.aborted && setYard((shown) => ({ ...shown, isStale: true })),
    );
    return () => stop.abort();
  }, [address, row, isWanted]);

  /** Fetches what is not here yet of the pages in sight; a server not heard is asked again by `refresh`. */
  const need = useCallback(
    (pages: readonly number[]) => {
      if (yard.isStale) return;
      for (const page of pages) {
        const name = `${yard.address} ${page}`;
        if (yard.pages.has(page) || asked.current.has(name)) continue;
        asked.current.add(name);
        const nearest = Math.max(...[...yard.pages.keys()].filter((each) => each < page));
        const end = yard.pages.get(nearest)?.end;
        const after: Record<string, string> = end
          ? { after: JSON.stringify({ page: nearest, end }) }
          : {};
        fetchList(yard.address, { page: String(page), ...after })
          .then(
            (list) => setYard((shown) => withPage(shown, list)),
            () => setYard((shown) => ({ ...shown, isStale: true })),
          )
          .finally(() => asked.current.delete(name));
      }
    },
    [yard],
  );

  /** Asks again for the pages in sight; the rows shown stay until the answer is here. */
  const refresh = useCallback(
    async (pages: readonly number[]) => {
      try {
        const lists = await Promise.all(
          (isWanted ? [0] : pages).map((page) => fetchList(address, { page: String(page) })),
        );
        const [first, ...rest] = lists;
        if (first && address === wanted.current) setYard(rest.reduce(withPage, loadedFrom(first)));
      } catch {
        setYard((shown) => ({ ...shown, isStale: true }));
      }
    },
    [address, isWanted],
  );

  return { yard, isWanted, need, refresh };
}

function withPage(shown: LoadedYard, { page, rows, end, ...rest }: YardList): LoadedYard {
  if (shown.address !== rest.address) return shown;
  return {
    ...shown,
    ...rest,
    pages: new Map(shown.pages).set(page, { rows, end }),
    isStale: false,
  };
}
