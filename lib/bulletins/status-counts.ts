import { type BulletinStatus, bulletinStatuses } from '@/lib/bulletins/bulletin-state';

/** How many units stand in each status under a bulletin. */
export type StatusCounts = Readonly<Record<BulletinStatus, number>>;

const none = Object.fromEntries(bulletinStatuses.map((status) => [status, 0])) as StatusCounts;

/**
 * Counts by what they are counted under. A key of which nothing is told has none of any status.
 *
 * Example: told 3 open and 1 done of `SB-14`, `open` of `SB-14` is 3, and of `SB-15` 0.
 */
export function statusCounts(
  told: Iterable<{ readonly key: string; readonly status: BulletinStatus; readonly units: number }>,
): (key: string) => StatusCounts {
  const counts = new Map<string, Record<BulletinStatus, number>>();
  for (const { key, status, units } of told) {
    const of = counts.get(key) ?? { ...none };
    of[status] += units;
    counts.set(key, of);
  }
  return (key) => counts.get(key) ?? none;
}
