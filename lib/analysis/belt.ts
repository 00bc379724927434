import type { BeltForecast } from '@/lib/analysis/assessment';
import { unitRate } from '@/lib/analysis/belt-rate';
import type { Limits } from '@/lib/analysis/limits';
import { cleanOdometers, type OdometerEntry, type PlacedOdometer } from '@/lib/analysis/odometer';
import { dayAtDistance, distanceOnDay, placeDistance } from '@/lib/analysis/odometer-place';
import type { Fitment } from '@/lib/analysis/reading';
import type { DayNumber, Kilometres } from '@/lib/measure';

export { fleetRate } from '@/lib/analysis/belt-rate';

export interface BeltInput {
  readonly odometers: readonly OdometerEntry[];
  /** The belt on the unit. */
  readonly belt: Fitment | null;
  readonly limits: Pick<Limits, 'beltDistance'>;
  /** Kilometres a day, from `fleetRate`; null when the fleet has none. */
  readonly fleetRate: number | null;
  readonly asOf: DayNumber;
}

/** Quantiles of Student's t with 5 degrees of freedom, for an 80% and a 90% interval. */
const quantile80 = 1.4759;
const quantile90 = 2.015;
/** Squared scale of the log of days left: how a unit's rate wanders, and, over few days, each day's own chance. */
const rateVariance = 0.031;
const dayVariance = 0.8;

/**
 * When the belt meets the fleet's distance limit: distance left at the last sound odometer, over the
 * unit's rate (see `unitRate`), with 80% and 90% intervals from Student's t on the
 * log of days left, squared scale 0.031 + 0.8 / days,
 * calibrated on a simulated fleet of known truth. A limit already met is dated where the
 * odometers passed it. Kilometres and day numbers.
 * Source: own method. The limit is the fleet's choice, not a law.
 * Thin data: `no belt on record`, `no odometer` or `no rate`, with what was set aside.
 *
 * @example 20,117 km left at 50 km a day is due 402 days after the last odometer
 */
export function forecastBelt(input: BeltInput): BeltForecast {
  const { belt, asOf } = input;
  const { kept, setAside } = cleanOdometers(input.odometers.filter(({ day }) => day <= asOf));
  const shown = setAside.map(({ readingId, odometer }) => ({ readingId, odometer }));
  const last = kept.at(-1);
  if (!belt) return withoutDate('no belt on record', shown);
  const fitted = last ? fittedDistance(kept, belt) : null;
  if (!last || fitted === null) return withoutDate('no odometer', shown);
  const rate = unitRate(kept, input.fleetRate, asOf);
  if (rate === null) return withoutDate('no rate', shown);

  const limit = fitted + input.limits.beltDistance;
  const left = limit - last.distance;
  const common = {
    distanceLeft: left - rate * (asOf - last.day),
    rate,
    setAside: shown,
    whyNone: null,
  };
  if (left <= 0) {
    const passed = Math.round(dayAtDistance(kept, limit));
    return {
      due: passed,
      earliest80: passed,
      latest80: passed,
      earliest90: passed,
      latest90: passed,
      ...common,
    };
  }
  const days = left / rate;
  const deviation = Math.sqrt(rateVariance + dayVariance / days);
  const after = (quantile: number) => Math.round(last.day + days * Math.exp(quantile * deviation));
  return {
    due: after(0),
    earliest80: after(-quantile80),
    latest80: after(quantile80),
    earliest90: after(-quantile90),
    latest90: after(quantile90),
    ...common,
  };
}

const withoutDate = (
  whyNone: NonNullable<BeltForecast['whyNone']>,
  setAside: BeltForecast['setAside'],
): BeltForecast => ({
  due: null,
  earliest80: null,
  latest80: null,
  earliest90: null,
  latest90: null,
  distanceLeft: null,
  rate: null,
  setAside,
  whyNone,
});

/** Where on the unit's continued scale the belt went on: by its odometer, else by its day. */
function fittedDistance(kept: readonly PlacedOdometer[], belt: Fitment): Kilometres | null {
  if (belt.fittedOdometer !== null) return placeDistance(kept, belt.fittedOdometer, belt.fittedOn);
  if (belt.fittedOn === null) return null;
  return kept[0]!.day <= belt.fittedOn ? distanceOnDay(kept, belt.fittedOn) : null;
}
