import type { FleetPrior } from '@/lib/analysis/fleet-prior';
import { type WearStep, WearTrack } from '@/lib/analysis/wear/wear-track';
import type { WearVisit } from '@/lib/analysis/wear/wear-visits';

const track = new WearTrack();

/** Probability, in the light of all visits, that each was in error; followed from the first anew. */
export function errorsInHindsight(visits: readonly WearVisit[], prior: FleetPrior): number[] {
  track.start(prior);
  const steps = visits.map((visit) => {
    track.take(visit.day, visit.idle);
    return track.step();
  });
  return errorsOf(track, steps);
}

/** Of a track as it stands: visits before a moved origin keep the verdict of their time. */
export const errorsOf = (followed: WearTrack, steps: readonly WearStep[]): number[] => [
  ...steps.slice(0, steps.length - followed.count).map(({ readingInError }) => readingInError),
  ...followed.errorsInHindsight(),
];
