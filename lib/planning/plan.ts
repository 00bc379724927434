import type { DayNumber } from '@/lib/measure';

/** A shed's week, written `2026-W05`. */
export interface BaySlot {
  readonly shedId: string;
  readonly week: string;
}

export interface PlanShed {
  readonly id: string;
  readonly name: string;
  /** Bay hours of an ordinary week. */
  readonly hoursPerWeek: number;
  readonly closures: readonly { readonly week: string; readonly hoursLost: number }[];
}

/** One piece of work on one unit that still needs a week. */
export interface PlanJob {
  readonly id: string;
  readonly unit: string;
  readonly kind: string;
  readonly hours: number;
  /** The unit's own shed. */
  readonly shedId: string;
  /** Other sheds that could take it, each with what sending the unit there costs. */
  readonly otherSheds?: readonly { readonly shedId: string; readonly cost: number }[];
  /**
   * Probability that the limit is met before each planned week begins and, last, before the plan
   * ends: one more figure than there are weeks. Empty for work that no forecast asks for.
   */
  readonly crossing: readonly number[];
  /** Early edge of the forecast, or the date by which a belt, a bulletin or an order wants it. */
  readonly wantedBy: DayNumber | null;
  /** Day from which the work can begin, e.g. when its part is there. */
  readonly readyOn: DayNumber | null;
  /** Weeks in which the unit cannot come. */
  readonly blackoutWeeks: readonly string[];
  /** Where the fleet manager put it; it stays there even when the week is too full. */
  readonly pinned: BaySlot | null;
}

/**
 * What the plan weighs, all in the worth of one bay hour. Assumptions, not fleet data: the fleet
 * sets its own.
 */
export interface PlanCosts {
  /** Bringing one unit in, whatever is then done to it. */
  readonly visit: number;
  /** A limit met on the road before the work is done. */
  readonly crossing: number;
  /** Each day past the date wanted. */
  readonly overdueDay: number;
  /** Leaving work without a week, on top of the crossing and the days that follow from it. */
  readonly notPlaced: number;
}

export const defaultPlanCosts: PlanCosts = {
  visit: 2,
  crossing: 60,
  overdueDay: 0.25,
  notPlaced: 10,
};

export interface PlanInput {
  /** Monday of the first planned week. */
  readonly firstMonday: DayNumber;
  readonly weekCount: number;
  readonly sheds: readonly PlanShed[];
  readonly jobs: readonly PlanJob[];
  /** Hours lost to setting up once for each visit, shared by the jobs joined in it. */
  readonly setUpHours: number;
  readonly costs: PlanCosts;
}

/** Where each job goes; null is not placed. Every job of the input has one entry. */
export type Placement = ReadonlyMap<string, BaySlot | null>;

/** One unit in one shed in one week, with everything that is done to it there. */
export interface Visit {
  readonly unit: string;
  readonly slot: BaySlot;
  readonly jobIds: readonly string[];
  /** Set-up included. */
  readonly hours: number;
}

/** Minutes as the planner counts them: work is rounded up, bay time down, so no sum overfills. */
export const workMinutes = (hours: number): number => Math.ceil(hours * 60 - 1e-6);
export const bayMinutes = (hours: number): number => Math.max(0, Math.floor(hours * 60 + 1e-6));
