import { odometerRollovers, type PlacedOdometer } from '@/lib/analysis/odometer';
import { type DayNumber, type Kilometres, toKilometres } from '@/lib/measure';

/** An odometer this far from where the unit was that day was mistyped: the day is believed. */
const mostAstray = toKilometres(12_000, 'mi');

/** Distance on the unit's continued scale on a day: straight between entries, level outside them. */
export function distanceOnDay(kept: readonly PlacedOdometer[], day: DayNumber): Kilometres {
  const next = kept.findIndex((entry) => entry.day > day);
  if (next === 0) return kept[0]!.distance;
  if (next === -1) return kept.at(-1)!.distance;
  const from = kept[next - 1]!;
  const to = kept[next]!;
  const share = (day - from.day) / (to.day - from.day);
  return from.distance + share * (to.distance - from.distance);
}

/** Day on which the unit passed a distance, the first entry's at the earliest. */
export function dayAtDistance(kept: readonly PlacedOdometer[], distance: Kilometres): DayNumber {
  const next = kept.findIndex((entry) => entry.distance >= distance);
  if (next === 0) return kept[0]!.day;
  if (next === -1) return kept.at(-1)!.day;
  const from = kept[next - 1]!;
  const to = kept[next]!;
  const share = (distance - from.distance) / (to.distance - from.distance);
  return from.day + share * (to.day - from.day);
}

/**
 * A keyed odometer on the unit's continued scale: through as many rollovers as bring it nearest to
 * where the unit was on its day or, without a day, as far as the unit has come.
 */
export function placeDistance(
  kept: readonly PlacedOdometer[],
  odometer: Kilometres,
  day: DayNumber | null,
): Kilometres {
  const most = kept.at(-1)!.distance;
  const candidates = [
    odometer,
    ...odometerRollovers.flatMap((rollover) =>
      Array.from(
        { length: Math.max(0, Math.ceil((most - odometer) / rollover)) },
        (_, turn) => odometer + (turn + 1) * rollover,
      ),
    ),
  ];
  if (day === null)
    return candidates.filter((c) => c <= most).reduce((a, b) => Math.max(a, b), odometer);
  const expected = distanceOnDay(kept, day);
  const nearest = candidates.reduce((a, b) =>
    Math.abs(b - expected) < Math.abs(a - expected) ? b : a,
  );
  const isCovered = day >= kept[0]!.day && day <= kept.at(-1)!.day;
  return isCovered && Math.abs(nearest - expected) > mostAstray ? expected : nearest;
}
