import type { PackUnit } from './pack-facts';

/** Gross vehicle weight rating from which 49 CFR 390.5 counts a vehicle by its weight: 10,001 lb. */
export const commercialWeightKg = 4_536;

export interface Retention {
  /** Whether the rule's weight is reached; other tests of the rule cannot be seen from the record. */
  readonly binds: string;
  /** What is kept, and until when. */
  readonly keep: string;
}

/** A date so many months on; the end of the month where it has no such day. */
function monthsAfter(iso: string, months: number): string {
  const [year, month, day] = iso.split('-').map(Number) as [number, number, number];
  const last = new Date(Date.UTC(year, month - 1 + months + 1, 0)).getUTCDate();
  return new Date(Date.UTC(year, month - 1 + months, Math.min(day, last)))
    .toISOString()
    .slice(0, 10);
}

/**
 * How long 49 CFR 396.3(c) has the maintenance record of a unit kept, and whether the unit's weight
 * makes it one that the rule binds: one year where the vehicle is housed, six months after it has
 * left the motor carrier's control. `newestOn` is the ISO day of the newest record in the pack.
 * Source: 49 CFR 390.5 and 396.3, published text. Thin data: without a rating on record the weight
 * cannot tell; without any record, no day is named.
 *
 * @example retentionOf({ gvwrKg: 4_536, leftFleetOn: '2025-08-31' }, null).keep is
 * 'to 2026-02-28: 6 months after it left on 2025-08-31'
 */
export function retentionOf(
  { gvwrKg, leftFleetOn }: Pick<PackUnit, 'gvwrKg' | 'leftFleetOn'>,
  newestOn: string | null,
): Retention {
  const inhouse = newestOn ? `newest to ${monthsAfter(newestOn, 12)}` : 'nothing on record';
  return {
    binds: bindsByWeight(gvwrKg),
    keep: leftFleetOn
      ? `to ${monthsAfter(leftFleetOn, 6)}: 6 months after it left on ${leftFleetOn}`
      : `each record 1 year (${inhouse}), and 6 months after the unit leaves`,
  };
}

function bindsByWeight(gvwrKg: number | null): string {
  if (gvwrKg === null) return 'cannot tell: no weight rating on record';
  const rating = `rating ${Math.round(gvwrKg).toLocaleString('en-US')} kg`;
  return gvwrKg >= commercialWeightKg
    ? `binds in interstate commerce: ${rating}`
    : `not by weight: ${rating}; only by passengers or placarded goods`;
}
