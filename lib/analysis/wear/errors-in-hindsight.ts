import type { FleetPrior } from '@/lib/analysis/fleet-prior';
import { curveCount } from '@/lib/analysis/wear/wear-curves';
import { mostVisits, WearTrack } from '@/lib/analysis/wear/wear-track';
import type { WearVisit } from '@/lib/analysis/wear/wear-visits';

const track = new WearTrack();
const shares = Array.from({ length: mostVisits }, () => new Float64Array(curveCount + 1));

/**
 * Probability that each visit was in error, in the light of all of them: every curve's own verdict
 * on the visit, weighted by what the curve is worth after the newest. Visits before a moved origin
 * keep the verdict of their time.
 */
export function errorsInHindsight(visits: readonly WearVisit[], prior: FleetPrior): number[] {
  track.start(prior);
  const errors = visits.map((visit) => {
    track.take(visit.day, visit.idle);
    return track.surprise.readingInError;
  });
  for (const row of shares) row.fill(Number.NaN);
  track.retake(shares);
  const { after, count } = track;
  const notBegun = track.weightNotBegun;
  for (let k = 0; k < count; k++) {
    const row = shares[k]!;
    const together = row[curveCount]!;
    let error = notBegun * (1 - together);
    for (let i = 0; i < after.count; i++) {
      const own = row[after.curve[i]!]!;
      error += after.weight[i]! * (1 - (Number.isNaN(own) ? together : own));
    }
    errors[errors.length - count + k] = error;
  }
  return errors;
}
