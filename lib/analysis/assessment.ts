import type { DayNumber, Kilometres, Kilopascals } from '@/lib/measure';

/** Worst first: the first true one is shown, the hidden ones stay among the reasons. */
export const marks = [
  'Out of service',
  'Book in',
  'Unread',
  'Proving',
  'Drifting',
  'Holding',
] as const;
export type Mark = (typeof marks)[number];

/** A structured fact behind a mark; `text` is made from the other fields and never carries more. */
export interface Reason {
  /** Stable name of the rule, e.g. `idle below stop`. */
  readonly rule: string;
  readonly mark: Mark;
  readonly text: string;
  readonly value?: number;
  readonly limit?: number;
  /** SI unit of `value` and `limit`. */
  readonly measure?: 'kPa' | 's' | 'km' | 'days' | 'probability';
  readonly readingIds: readonly string[];
  /** True when the rule judges the vacuum actually there, false when it judges wear. */
  readonly asRead?: boolean;
  /** What the rule speaks of beside figures: a bulletin's number, a spell's cause. */
  readonly about?: string;
  /** When the rule came true, or the day by which it asks for action. */
  readonly on?: DayNumber;
}

export type WhyNoDate =
  | 'too few'
  | 'beyond 10 years'
  | 'no reading since the repair'
  | 'no reading'
  | 'no limit';

/** First passage of a limit. Dates are day numbers; `null` with `whyNone` when there is none to show. */
export interface FirstPassage {
  readonly probabilityWithin1Year: number | null;
  readonly probabilityBeforeNextReading: number | null;
  readonly probabilityWithinHorizon: number | null;
  readonly earliest95: DayNumber | null;
  readonly earliest90: DayNumber | null;
  readonly earliest80: DayNumber | null;
  readonly median: DayNumber | null;
  readonly latest80: DayNumber | null;
  readonly latest90: DayNumber | null;
  readonly latest95: DayNumber | null;
  readonly whyNone: WhyNoDate | null;
}

/** Expected idle vacuum, SLE, ahead of the last reading, for the chart's bands. */
export interface ForecastPoint {
  readonly day: DayNumber;
  readonly median: Kilopascals;
  readonly low80: Kilopascals;
  readonly high80: Kilopascals;
  readonly low95: Kilopascals;
  readonly high95: Kilopascals;
}

export const causes = [
  'pump',
  'leak',
  'check valve',
  'restricted line',
  'slipping belt',
  'none shown',
  'cannot tell',
] as const;
export type Cause = (typeof causes)[number];

export interface Diagnosis {
  readonly said: Cause;
  /** Other causes that the evidence does not rule out. */
  readonly alternatives: readonly Cause[];
  readonly confidence: 'high' | 'fair' | 'low';
  readonly evidenceFor: readonly string[];
  readonly evidenceAgainst: readonly string[];
  /** The next check that would tell most. */
  readonly nextCheck: string;
  /** Oil at the booster adds booster and line to the work whatever the cause. */
  readonly oilAtBooster: boolean;
}

export interface BeltForecast {
  readonly due: DayNumber | null;
  readonly earliest80: DayNumber | null;
  readonly latest80: DayNumber | null;
  readonly earliest90: DayNumber | null;
  readonly latest90: DayNumber | null;
  readonly distanceLeft: Kilometres | null;
  /** Kilometres a day. */
  readonly rate: number | null;
  readonly setAside: readonly { readonly readingId: string; readonly odometer: Kilometres }[];
  readonly whyNone: 'no odometer' | 'no belt on record' | 'no rate' | null;
}
