import type { BeltForecast } from '@/lib/analysis/assessment';
import type { Limits } from '@/lib/analysis/limits';
import type { OdometerEntry } from '@/lib/analysis/odometer';
import type { Fitment } from '@/lib/analysis/reading';
import type { DayNumber } from '@/lib/measure';

export interface BeltInput {
  readonly odometers: readonly OdometerEntry[];
  /** The belt on the unit. */
  readonly belt: Fitment | null;
  readonly limits: Pick<Limits, 'beltDistance'>;
  /** Kilometres a day, from `fleetRate`; null when the fleet has none. */
  readonly fleetRate: number | null;
  readonly asOf: DayNumber;
}
export declare function forecastBelt(input: BeltInput): BeltForecast;
/** Median of the units' own rates, kilometres a day; null when no unit has one. */
export declare function fleetRate(
  histories: readonly (readonly OdometerEntry[])[],
  asOf: DayNumber,
): number | null;
