import { belowLimit, daysPerYear } from '@/lib/analysis/wear/below-limit';
import type { FleetPrior } from '@/lib/analysis/wear/default-fleet-prior';
import { takeVisit, type VisitSurprise } from '@/lib/analysis/wear/take-visit';
import {
  type BeliefSnapshot,
  type PreparedPrior,
  prepare,
  WearBelief,
} from '@/lib/analysis/wear/wear-belief';
import { curveCount, lossOf } from '@/lib/analysis/wear/wear-curves';
import { levelOf, posteriorOf, type WearPosterior } from '@/lib/analysis/wear/wear-posterior';
import { isConfirmed, median, type WearVisit } from '@/lib/analysis/wear/wear-visits';
import type { DayNumber } from '@/lib/measure';

/** Beyond these the library's grid is too coarse: the segment is followed from a later origin. */
export const mostVisits = 28;
export const mostYears = 6;
const visitsKept = 24;
const yearsKept = 5;
/** |z| beyond this asks for a re-read. */
const surprising = 3;
/** Standard deviations below the expected value at which an unconfirmed reading is tried. */
const trials = [2.8, 2.9, 3, 3.2, 3.5, 4, 5, 6, 8] as const;

export interface WearStep {
  readonly day: DayNumber;
  /** Standardised surprise of the visit before it was taken in. */
  readonly z: number;
  /** Probability, at the time, that the visit was in error. */
  readonly readingInError: number;
  /** |z| > 3: read again the same day. */
  readonly asksReread: boolean;
}

export interface NewestVisit {
  readonly step: WearStep;
  readonly unconfirmed: boolean;
  readonly posterior: WearPosterior;
  readonly within1Year: number;
  /** The highest it could be if an unconfirmed reading were true; 0 where none is. */
  readonly within1YearIfTrue: number;
}

/**
 * Follows one segment visit by visit, in psi. Reused from unit to unit: start it, then take the
 * visits in order of day, each day once.
 */
export class WearTrack {
  private ready!: PreparedPrior;
  before = new WearBelief();
  after = new WearBelief();
  readonly days = new Float64Array(mostVisits);
  readonly idles = new Float64Array(mostVisits);
  /** By visit since the origin: each curve's probability that it was sound; see `takeVisit`. */
  private readonly shares: readonly Float64Array[];
  /** Visits since the origin, and the level that was expected there. */
  count = 0;
  startLevel = Number.NaN;
  readonly surprise: VisitSurprise = {
    z: Number.NaN,
    readingInError: Number.NaN,
    logLikelihood: Number.NaN,
  };

  constructor({ isHindsightKept = true } = {}) {
    this.shares = isHindsightKept
      ? Array.from({ length: mostVisits }, () => new Float64Array(curveCount + 1))
      : [];
  }

  start(prior: FleetPrior): void {
    this.ready = prepare(prior);
    this.startAt(prior.startLevel);
  }

  private startAt(level: number): void {
    this.after.start(this.ready.prior);
    this.after.restLevel = level;
    this.startLevel = level;
    this.count = 0;
  }

  /** Takes in a visit later than the last. */
  take(day: number, idle: number): void {
    if (this.count > 0 && this.isPastGrid(day)) this.moveOrigin(day);
    this.days[this.count] = day;
    this.idles[this.count] = idle;
    this.count++;
    const { before, after } = this;
    this.before = after;
    this.after = before;
    this.takeNewest(idle, this.shares[this.count - 1]?.fill(Number.NaN));
  }

  private takeNewest(idle: number, shares?: Float64Array): void {
    takeVisit(this.ready, this.before, this.after, this.years, idle, this.surprise, shares);
  }

  /** Years from the origin to the newest visit. */
  get years(): number {
    return (this.days[this.count - 1]! - this.days[0]!) / daysPerYear;
  }

  /** Takes up a segment where a snapshot left it; `visits` are those since the origin. */
  resume(belief: BeliefSnapshot, visits: readonly WearVisit[], startLevel: number): void {
    this.after.restore(belief);
    this.startLevel = startLevel;
    this.count = visits.length;
    visits.forEach((visit, k) => {
      this.days[k] = visit.day;
      this.idles[k] = visit.idle;
    });
  }

  /** How the newest visit compared with what was expected. */
  step(): WearStep {
    const { z, readingInError } = this.surprise;
    const day = this.days[this.count - 1]!;
    return { day, z, readingInError, asksReread: Math.abs(z) > surprising };
  }

  /** The newest visit's forecast of lying below `limit`, psi, a year on. */
  judge(visit: WearVisit, prior: FleetPrior, limit: number): NewestVisit {
    const step = this.step();
    const unconfirmed = step.asksReread && !isConfirmed(visit, prior);
    const posterior = this.posterior(unconfirmed);
    return {
      step,
      unconfirmed,
      posterior,
      within1Year: belowLimit(posterior, limit, 365),
      within1YearIfTrue: unconfirmed ? this.worstIfTrue(visit, posterior, limit) : 0,
    };
  }

  /**
   * An unconfirmed low reading taken as true, or any less low one down to it: what is improbable is
   * softened, and a worse reading must not count for less.
   */
  private worstIfTrue(visit: WearVisit, expected: WearPosterior, limit: number): number {
    const { mean, deviation } = levelOf(expected, 0);
    const read = median(visit.readings);
    const spread = Math.hypot(deviation, this.ready.prior.noise);
    let worst = 0;
    for (const trial of trials) {
      const idle = Math.max(read, mean - trial * spread);
      this.takeNewest(idle);
      worst = Math.max(worst, belowLimit(this.posterior(false), limit, 365));
      if (idle === read) break;
    }
    this.takeNewest(visit.idle);
    return worst;
  }

  /** What a forecast made at the newest visit rests on: an unconfirmed surprise is left out of it. */
  private posterior(leavingOutNewest: boolean): WearPosterior {
    return posteriorOf(this.ready, leavingOutNewest ? this.before : this.after, this.years);
  }

  /**
   * Probability that each visit since the origin was in error, in the light of all of them: every
   * curve's own verdict on the visit, weighted by what the curve is worth after the newest.
   */
  errorsInHindsight(): number[] {
    const { after, ready } = this;
    const notBegun =
      after.rest * (ready.smoothFrom[after.smoothBegun]! + ready.stepsFrom[after.stepsBegun]!);
    return this.shares.slice(0, this.count).map((row) => {
      const together = row[curveCount]!;
      let error = notBegun * (1 - together);
      for (let i = 0; i < after.count; i++) {
        const own = row[after.curve[i]!]!;
        error += after.weight[i]! * (1 - (Number.isNaN(own) ? together : own));
      }
      return error;
    });
  }

  private isPastGrid(day: number): boolean {
    return this.count === mostVisits || day - this.days[0]! > mostYears * daysPerYear;
  }

  /**
   * Starts again from the latest visits. The level expected at the new origin is what all visits so
   * far say of it; its deviation is the fleet's, since the kept visits are about to be taken in again.
   */
  private moveOrigin(day: number): void {
    let first = Math.max(this.count + 1 - visitsKept, 1);
    while (first < this.count && day - this.days[first]! > yearsKept * daysPerYear) first++;
    const level = this.expectedLevelAt(this.days[Math.min(first, this.count - 1)]!);
    this.days.copyWithin(0, first, this.count);
    this.idles.copyWithin(0, first, this.count);
    const kept = this.count - first;
    this.startAt(level);
    for (let k = 0; k < kept; k++) this.take(this.days[k]!, this.idles[k]!);
  }

  private expectedLevelAt(day: number): number {
    const posterior = this.posterior(false);
    const years = (day - this.days[0]!) / daysPerYear;
    let mean = 0;
    for (let k = 0; k < posterior.curve.length; k++)
      mean += posterior.weight[k]! * (posterior.level[k]! - lossOf(posterior.curve[k]!, years));
    return mean;
  }
}
