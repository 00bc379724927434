import { z } from 'zod';
import type { LedgerQuery } from '@/db/reads/ledger-entries';
import { isPlainLine } from '@/lib/plain-text';

const one = z.preprocess(
  (value) => (Array.isArray(value) ? value[0] : value) || undefined,
  z.string().trim().max(64).refine(isPlainLine).optional(),
);
const optional = <Type extends z.ZodType>(type: Type) =>
  z.preprocess((value) => (Array.isArray(value) ? value[0] : value) || undefined, type.optional());

const search = z.object({
  entry: optional(z.coerce.number().int().min(1).max(Number.MAX_SAFE_INTEGER)),
  unit: one,
  person: one,
  kind: one,
  from: optional(z.iso.date()),
  to: optional(z.iso.date()),
  page: optional(z.coerce.number().int().min(1).max(1_000_000)),
});

export type LedgerSearch = z.infer<typeof search>;

/** Filters of the address; one that cannot be read is named and left out. */
export function readLedgerSearch(params: Record<string, unknown>): {
  readonly search: LedgerSearch;
  readonly unread: readonly string[];
} {
  const parsed = search.safeParse(params);
  if (parsed.success) return { search: parsed.data, unread: [] };
  const unread = [...new Set(parsed.error.issues.map(({ path }) => String(path[0])))];
  const readable = Object.fromEntries(
    Object.entries(params).filter(([name]) => !unread.includes(name)),
  );
  return { search: search.parse(readable), unread };
}

const dayMs = 86_400_000;

/** Days of the search are days in UTC, as the ledger's hashed times are. */
export function ledgerQuery({ entry, unit, person, kind, from, to }: LedgerSearch): LedgerQuery {
  return {
    entry,
    unitId: unit?.toUpperCase(),
    personId: person,
    kind,
    from: from === undefined ? undefined : new Date(`${from}T00:00:00Z`),
    until: to === undefined ? undefined : new Date(Date.parse(`${to}T00:00:00Z`) + dayMs),
  };
}

export const ledgerAddress = (search: LedgerSearch, page?: number): string =>
  new URLSearchParams(
    Object.entries({ ...search, page }).flatMap(([name, value]) =>
      value === undefined ? [] : [[name, String(value)]],
    ),
  ).toString();
