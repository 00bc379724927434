import type { FleetPrior } from '@/lib/analysis/fleet-prior';
import { defaultLimits } from '@/lib/analysis/limits';
import { daysPerYear } from '@/lib/analysis/wear/below-limit';
import { scoreOf } from '@/lib/analysis/wear/score-of';
import type { BeliefSnapshot } from '@/lib/analysis/wear/wear-belief';
import { outcomeOf, type WearOutcome } from '@/lib/analysis/wear/wear-outcome';
import type { WearPosterior } from '@/lib/analysis/wear/wear-posterior';
import { type NewestVisit, WearTrack } from '@/lib/analysis/wear/wear-track';
import {
  combinedVisits,
  visitsOf,
  type WearPoint,
  type WearVisit,
} from '@/lib/analysis/wear/wear-visits';
import { type Kilopascals, kilopascalsPerUnit } from '@/lib/measure';

/** A segment as followed so far: plain JSON, to be kept between readings. */
export interface WearState {
  readonly prior: FleetPrior;
  readonly limitSle: Kilopascals;
  readonly visits: readonly WearVisit[];
  readonly belief: BeliefSnapshot | null;
  /** Visits since the origin, and the level that was expected there, psi. */
  readonly sinceOrigin: number;
  readonly originLevel: number;
  readonly steps: WearOutcome['steps'];
  readonly newest: Omit<NewestVisit, 'posterior'> | null;
  readonly probabilityBefore: number | null;
  readonly scoreBefore: number | null;
  readonly posterior: Readonly<
    Record<'curve' | 'weight' | 'level' | 'variance', readonly number[]>
  > | null;
}

const track = new WearTrack({ isHindsightKept: false });

/** A segment without a visit. */
export const startWear = (
  prior: FleetPrior,
  limitSle: Kilopascals = defaultLimits.idleCautionSle,
): WearState => ({
  prior,
  limitSle,
  visits: [],
  belief: null,
  sinceOrigin: 0,
  originLevel: prior.startLevel,
  steps: [],
  newest: null,
  probabilityBefore: null,
  scoreBefore: null,
  posterior: null,
});

/**
 * Takes one more reading in; equal to `assessWear` of all of them. Null when the reading is not later
 * than the newest visit, or not a number: then only a new start from all readings is right.
 */
export function updateWear(state: WearState, point: WearPoint): WearState | null {
  const { prior, limitSle, visits } = state;
  const last = visits.at(-1);
  const [raw] = visitsOf([point]);
  if (!raw || (last && raw.day <= last.day)) return null;
  const [visit] = combinedVisits([raw], { ...prior, startLevel: last?.idle ?? prior.startLevel });
  if (!visit) return null;
  track.start(prior);
  if (state.belief)
    track.resume(state.belief, visits.slice(visits.length - state.sinceOrigin), state.originLevel);
  track.take(visit.day, visit.idle);
  const { posterior, ...newest } = track.judge(visit, prior, limitSle / kilopascalsPerUnit.psi);
  return {
    prior,
    limitSle,
    visits: [...visits, visit],
    belief: track.after.snapshot(),
    sinceOrigin: track.count,
    originLevel: track.startLevel,
    steps: [...state.steps, newest.step],
    newest,
    probabilityBefore: state.newest?.within1Year ?? null,
    scoreBefore: scoreOf(
      state.newest?.within1Year ?? null,
      state.probabilityBefore,
      prior.alarmPower,
    ),
    posterior: {
      curve: [...posterior.curve],
      weight: [...posterior.weight],
      level: [...posterior.level],
      variance: [...posterior.variance],
    },
  };
}

/** What the segment as followed so far says. */
export function wearOutcomeOf(state: WearState): WearOutcome {
  const { prior, visits, steps, newest, posterior, sinceOrigin } = state;
  const first = visits[visits.length - sinceOrigin];
  const last = visits.at(-1);
  const revived: WearPosterior | null =
    posterior && first && last
      ? {
          years: (last.day - first.day) / daysPerYear,
          wearNoise: prior.wearNoise,
          curve: Int32Array.from(posterior.curve),
          weight: Float64Array.from(posterior.weight),
          level: Float64Array.from(posterior.level),
          variance: Float64Array.from(posterior.variance),
        }
      : null;
  return outcomeOf(
    visits,
    prior,
    steps,
    newest && revived && { ...newest, posterior: revived },
    state.probabilityBefore,
    state.scoreBefore,
  );
}
