import type { DayNumber } from '@/lib/measure';
import { type EventRate, type RateRatio, rateRatio } from '@/lib/statistics/rate-ratio';

/** One unit's history as far as a bulletin's worth is concerned. */
export interface BulletinHistory {
  readonly unit: string;
  /** The bulletin applies to the unit. Undecided units belong to neither group: leave them out. */
  readonly isCovered: boolean;
  readonly doneOn: DayNumber | null;
  /** Days on which the unit was under observation, both in. */
  readonly observedFrom: DayNumber;
  readonly observedTo: DayNumber;
  /** Days of failures of the parts concerned, and days on which drift was first told. */
  readonly failures: readonly DayNumber[];
  readonly drifts: readonly DayNumber[];
}

export interface RateComparison {
  /** Events and unit-years. */
  readonly before: EventRate;
  readonly after: EventRate;
  readonly notCovered: EventRate;
  readonly afterOverBefore: RateRatio;
  /** Covered units until the work, if any was done. */
  readonly coveredNotDone: EventRate;
  /** The same over units that the bulletin leaves out. */
  readonly coveredOverNotCovered: RateRatio;
}

export interface BulletinWorth {
  readonly units: { readonly done: number; readonly notDone: number; readonly notCovered: number };
  readonly failures: RateComparison;
  readonly drifts: RateComparison;
  readonly caution: string;
}

const daysPerYear = 365.25;

const caution =
  'Observed, not tried: units were not chosen by lot. Work is often done after trouble, and trouble ' +
  'tends to ease by itself; season, distance and age differ too. A ratio under 1 fits a bulletin ' +
  'that helps and does not prove it.';

const addRates = (rates: readonly EventRate[]): EventRate => ({
  events: rates.reduce((sum, { events }) => sum + events, 0),
  time: rates.reduce((sum, { time }) => sum + time, 0),
});

function rateWithin(events: readonly DayNumber[], from: DayNumber, to: DayNumber): EventRate {
  return {
    events: events.filter((day) => day >= from && day <= to).length,
    time: Math.max(0, to - from + 1) / daysPerYear,
  };
}

function compare(
  histories: readonly BulletinHistory[],
  eventsOf: (history: BulletinHistory) => readonly DayNumber[],
): RateComparison {
  const rates = histories.map((history) => {
    const { observedFrom, observedTo } = history;
    const lastBefore = Math.min(history.doneOn ?? observedTo, observedTo);
    const firstAfter = Math.max(lastBefore + 1, observedFrom);
    return {
      history,
      before: rateWithin(eventsOf(history), observedFrom, lastBefore),
      after: rateWithin(eventsOf(history), firstAfter, observedTo),
    };
  });
  const covered = rates.filter(({ history }) => history.isCovered);
  const left = rates.filter(({ history }) => !history.isCovered);
  const done = covered.filter(({ history }) => history.doneOn !== null);
  const before = addRates(done.map((rate) => rate.before));
  const after = addRates(done.map((rate) => rate.after));
  const notCovered = addRates(left.flatMap((rate) => [rate.before, rate.after]));
  const coveredNotDone = addRates(covered.map((rate) => rate.before));
  return {
    before,
    after,
    notCovered,
    coveredNotDone,
    afterOverBefore: rateRatio(after, before),
    coveredOverNotCovered: rateRatio(coveredNotDone, notCovered),
  };
}

/**
 * Rates of failure and of drift before and after a bulletin's work, and of covered units still
 * without it against units that it leaves out, as ratios with exact 95% intervals. The day of the
 * work counts as before. Before and after take only units where the work was done.
 *
 * Method: events over unit-years, `rateRatio`. It says nothing about why.
 * Thin data: no event or no time gives that outcome by name.
 * Example: 8 failures in 40 unit-years before and 2 in 40 after is 0.25.
 */
export function doesItHelp(histories: readonly BulletinHistory[]): BulletinWorth {
  const covered = histories.filter(({ isCovered }) => isCovered);
  const done = covered.filter(({ doneOn }) => doneOn !== null).length;
  return {
    units: {
      done,
      notDone: covered.length - done,
      notCovered: histories.length - covered.length,
    },
    failures: compare(histories, ({ failures }) => failures),
    drifts: compare(histories, ({ drifts }) => drifts),
    caution,
  };
}
