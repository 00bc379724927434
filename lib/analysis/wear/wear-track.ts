import { belowLimit, daysPerYear } from '@/lib/analysis/wear/below-limit';
import type { FleetPrior } from '@/lib/analysis/wear/default-fleet-prior';
import { takeVisit, type VisitSurprise } from '@/lib/analysis/wear/take-visit';
import {
  type BeliefSnapshot,
  type PreparedPrior,
  prepare,
  WearBelief,
} from '@/lib/analysis/wear/wear-belief';
import { lossOf } from '@/lib/analysis/wear/wear-curves';
import { posteriorOf, type WearPosterior } from '@/lib/analysis/wear/wear-posterior';
import { isConfirmed, type WearVisit } from '@/lib/analysis/wear/wear-visits';
import type { DayNumber } from '@/lib/measure';

/** Beyond these the library's grid is too coarse: the segment is followed from a later origin. */
export const mostVisits = 28;
export const mostYears = 6;
const visitsKept = 24;
const yearsKept = 5;
/** |z| beyond this asks for a re-read. */
const surprising = 3;

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
  /** Visits since the origin, and the level that was expected there. */
  count = 0;
  startLevel = 0;
  readonly surprise: VisitSurprise = { z: 0, readingInError: 0, logLikelihood: 0 };

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

  /** Takes in a visit later than the last. `shares`: see `takeVisit`. */
  take(day: number, idle: number, shares: Float64Array | null = null): void {
    if (this.count > 0 && this.isPastGrid(day)) this.moveOrigin(day);
    this.days[this.count] = day;
    this.idles[this.count] = idle;
    this.count++;
    const { before, after } = this;
    this.before = after;
    this.after = before;
    takeVisit(this.ready, after, before, this.years, idle, this.surprise, shares);
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
    return { step, unconfirmed, posterior, within1Year: belowLimit(posterior, limit, 365) };
  }

  /** What a forecast made at the newest visit rests on: an unconfirmed surprise is left out of it. */
  private posterior(leavingOutNewest: boolean): WearPosterior {
    return posteriorOf(this.ready, leavingOutNewest ? this.before : this.after, this.years);
  }

  /** Prior weight left to the curves that have not begun. */
  get weightNotBegun(): number {
    const { rest, smoothBegun, stepsBegun } = this.after;
    return rest * (this.ready.smoothFrom[smoothBegun]! + this.ready.stepsFrom[stepsBegun]!);
  }

  /** Takes the visits since the origin in once more, one row of `shares` a visit. */
  retake(shares: readonly Float64Array[] | null): void {
    const count = this.count;
    this.startAt(this.startLevel);
    for (let k = 0; k < count; k++) this.take(this.days[k]!, this.idles[k]!, shares?.[k] ?? null);
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
    this.startLevel = level;
    this.count -= first;
    this.retake(null);
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
