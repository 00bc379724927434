import type { DayNumber, Kilometres } from '@/lib/measure';

export interface OdometerEntry {
  readonly readingId: string;
  readonly day: DayNumber;
  readonly odometer: Kilometres;
}
export interface CleanOdometers {
  /** In order of day; `distance` carries on through rollovers. */
  readonly kept: readonly (OdometerEntry & { readonly distance: Kilometres })[];
  readonly setAside: readonly OdometerEntry[];
}
export declare function cleanOdometers(entries: readonly OdometerEntry[]): CleanOdometers;
