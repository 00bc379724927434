/**
 * The library of wear curves: how much idle vacuum, psi, a source of vacuum may have lost t years
 * after the first visit of its segment. The library works in psi and years; everything else in kPa
 * and days.
 *
 * Smooth curves: D(t) = min(3 [((t - c)+ / A)^p - ((-c)+ / A)^p], 14), with onset c, span A (years
 * to lose 3 psi) and bend p. Steps: D(t) = s from t = c on. All D(0) are 0: a curve tells the loss
 * since tracking began, the level then is a separate unknown.
 *
 * Source: our own design, a grid for an empirical Bayes mixture (Robbins 1956 is the idea).
 */
const quarters = (from: number, count: number) =>
  Array.from({ length: count }, (_, k) => from + k / 4);
const eighths = (from: number, count: number) =>
  Array.from({ length: count }, (_, k) => from + k / 8);

export const onsetYears: readonly number[] = [-2, -1, -0.5, ...quarters(0, 25), 7, 8, 10, 12, 16];
export const spanYears: readonly number[] = [0.08, 0.5, 1, 1.6, 2.5, 4, 6.5, 11, 20];
export const bendPowers: readonly number[] = [1, 2, 4];
export const stepYears: readonly number[] = [...eighths(0.0625, 48), 6.5, 7, 8, 10, 12, 16];
export const stepSizes: readonly number[] = [0.7, 1.5, 3, 5];

/** Onsets at or before the first visit: curves already wearing when tracking begins. */
export const wearingOnsets = onsetYears.filter((onset) => onset <= 0).length;
/** Smooth curves that share an onset. */
export const bendCount = spanYears.length * bendPowers.length;
export const smoothCount = onsetYears.length * bendCount;
export const curveCount = smoothCount + stepYears.length * stepSizes.length;

const greatestLoss = 14;
const spanRates = Float64Array.from(spanYears, (span) => 1 / span);

/** Curves are numbered by onset, then span, then bend; steps follow, by time, then size. */
export function smoothCurvesBegunBy(years: number): number {
  let onsets = 0;
  while (onsets < onsetYears.length && onsetYears[onsets]! < years) onsets++;
  return onsets * bendCount;
}

export function stepCurvesBegunBy(years: number): number {
  let steps = 0;
  while (steps < stepYears.length && stepYears[steps]! <= years) steps++;
  return steps * stepSizes.length;
}

/** By curve, so that the loops need no division: when it begins, and how it goes on. */
const beginning = new Float64Array(curveCount);
const rate = new Float64Array(smoothCount);
const bend = new Uint8Array(smoothCount);
const lossBeforeTracking = new Float64Array(smoothCount);
const stepSize = new Float64Array(curveCount);
{
  let curve = 0;
  for (const onset of onsetYears)
    for (const span of spanYears)
      for (const power of bendPowers) {
        beginning[curve] = onset;
        rate[curve] = 1 / span;
        bend[curve] = power;
        lossBeforeTracking[curve] = 3 * (Math.max(-onset, 0) / span) ** power;
        curve++;
      }
  for (const time of stepYears)
    for (const size of stepSizes) {
      beginning[curve] = time;
      stepSize[curve++] = size;
    }
}

/** Loss at t of one curve, psi. `lossOf(891, 0.0625)` is 0.7, the first step. */
export function lossOf(curve: number, years: number): number {
  const elapsed = years - beginning[curve]!;
  if (curve >= smoothCount) return elapsed >= 0 ? stepSize[curve]! : 0;
  if (elapsed <= 0) return 0;
  const share = elapsed * rate[curve]!;
  const square = share * share;
  const power = bend[curve]! === 1 ? share : bend[curve]! === 2 ? square : square * square;
  return Math.min(3 * power - lossBeforeTracking[curve]!, greatestLoss);
}

/** Fills `losses` for every curve begun by t; the entries of the others are left alone. */
export function lossesAt(years: number, losses: Float64Array): void {
  const smooth = smoothCurvesBegunBy(years);
  let curve = 0;
  for (let onset = 0; curve < smooth; onset++) {
    const elapsed = years - onsetYears[onset]!;
    for (let span = 0; span < spanRates.length; span++) {
      const share = elapsed * spanRates[span]!;
      const square = share * share;
      losses[curve] = Math.min(3 * share - lossBeforeTracking[curve]!, greatestLoss);
      curve++;
      losses[curve] = Math.min(3 * square - lossBeforeTracking[curve]!, greatestLoss);
      curve++;
      losses[curve] = Math.min(3 * square * square - lossBeforeTracking[curve]!, greatestLoss);
      curve++;
    }
  }
  const begun = smoothCount + stepCurvesBegunBy(years);
  for (let step = smoothCount; step < begun; step++) losses[step] = stepSize[step]!;
}
