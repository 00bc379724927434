import type { FleetPrior } from '@/lib/analysis/wear/default-fleet-prior';
import { median, type WearVisit } from '@/lib/analysis/wear/wear-visits';

/** Standard deviations of a normal distribution per median absolute deviation. */
const deviationsPerMad = 1.4826;
/** Segments at which the fleet's own figure weighs as much as the default. */
const segmentsForHalf = 20;
const leastStartVariance = 0.0025;
/** Variance of the median of three visits, in visit variances. */
const medianOfThree = 0.3925;

const robustDeviation = (values: readonly number[]): number => {
  const middle = median(values);
  return deviationsPerMad * median(values.map((value) => Math.abs(value - middle)));
};

/**
 * Noise, start level and its deviation from the fleet's own readings, blended with the default by
 * n / (n + 20). Noise: MAD of each visit against the mean of its neighbours, over root 1.5. Start:
 * medians of the first three visits. A segment of fewer than three visits tells nothing here; without
 * any that does, the default is returned.
 *
 * Source: our own design; 1.4826 is the consistency factor of the MAD (Hampel 1974).
 */
export function robustMoments(
  segments: readonly (readonly WearVisit[])[],
  basis: FleetPrior,
): FleetPrior {
  const telling = segments.filter((visits) => visits.length >= 3);
  if (telling.length === 0) return basis;
  const bends = telling.flatMap((visits) =>
    visits.slice(1, -1).map((visit, k) => visit.idle - (visits[k]!.idle + visits[k + 2]!.idle) / 2),
  );
  const starts = telling.map((visits) => median(visits.slice(0, 3).map((visit) => visit.idle)));
  const noise = robustDeviation(bends) / Math.sqrt(1.5);
  const startVariance = Math.max(
    robustDeviation(starts) ** 2 - medianOfThree * noise ** 2,
    leastStartVariance,
  );
  const own = telling.length / (telling.length + segmentsForHalf);
  const blend = (fleet: number, given: number) => own * fleet + (1 - own) * given;
  return {
    ...basis,
    noise: Math.sqrt(blend(noise ** 2, basis.noise ** 2)),
    startLevel: blend(median(starts), basis.startLevel),
    startDeviation: Math.sqrt(blend(startVariance, basis.startDeviation ** 2)),
  };
}
