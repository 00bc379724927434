import type {
  BeltForecast,
  Diagnosis,
  FirstPassage,
  ForecastPoint,
  Mark,
  Reason,
} from '@/lib/analysis/assessment';
import type { FleetPrior } from '@/lib/analysis/fleet-prior';
import type { Limits } from '@/lib/analysis/limits';
import type {
  BeltState,
  Fitment,
  LineState,
  Part,
  PedalState,
  Reading,
  UnitFacts,
} from '@/lib/analysis/reading';
import type {
  DayNumber,
  DistanceUnit,
  Kilometres,
  Kilopascals,
  PressureUnit,
  Seconds,
} from '@/lib/measure';

/** Everything a verdict rests on. Facts dated after `asOf` are ignored. */
export interface AssessUnitInput {
  readonly unit: UnitFacts;
  /** In any order; amendments already applied. */
  readonly readings: readonly Reading[];
  readonly fitments: readonly Fitment[];
  readonly limits: Limits;
  readonly prior: FleetPrior;
  readonly asOf: DayNumber;
  readonly openSpell?: { readonly why: string; readonly openedOn: DayNumber } | null;
  /** Newest release to service. */
  readonly releasedOn?: DayNumber | null;
  readonly proofReadingIds?: readonly string[];
  /**
   * Newest closing of an order with vacuum work, whether repaired or nothing found; null when none was
   * closed yet. Left out where no orders are kept: then the newest repair on record closes the case,
   * and two visits running without cause end a Book in.
   */
  readonly vacuumOrderClosedOn?: DayNumber | null;
  readonly bulletinsDue?: readonly BulletinDue[];
  /** Kilometres a day of the fleet, from `fleetRate`. */
  readonly fleetBeltRate?: number | null;
  readonly laidUpOn?: DayNumber | null;
  readonly leftFleetOn?: DayNumber | null;
  /** False leaves out the chart's bands, which cost more than the rest together. */
  readonly isForecastCharted?: boolean;
  /** Units of measure of the texts; psi and miles otherwise. */
  readonly pressureUnit?: PressureUnit;
  readonly distanceUnit?: DistanceUnit;
}

export interface BulletinDue {
  readonly bulletinId: string;
  readonly number: string;
  readonly dueOn: DayNumber | null;
  /** Do not drive until done, approved by the safety officer. */
  readonly isDoNotDrive: boolean;
}

/** The newest sound reading, with both judgements of its vacuum. */
export interface LatestReading {
  readonly readingId: string;
  readonly readOn: DayNumber;
  readonly daysAgo: number;
  readonly technician: string | null;
  readonly ambient: Kilopascals;
  readonly idle: Kilopascals | null;
  readonly idleSle: Kilopascals | null;
  readonly raised: Kilopascals | null;
  readonly lowest: Kilopascals | null;
  readonly lowestSle: Kilopascals | null;
  readonly recovery: Seconds | null;
  readonly holdLoss: Kilopascals | null;
  readonly holdTime: Seconds | null;
  readonly line: LineState;
  readonly pedal: PedalState | null;
  readonly belt: BeltState | null;
  readonly odometer: Kilometres | null;
  /** The idle value surprises and no second reading that day agrees: read again today. */
  readonly isUnconfirmed: boolean;
}

/** Level and slope of idle vacuum in the current segment. kPa and kPa a year, SLE unless named. */
export interface IdleTrend {
  readonly latestSle: Kilopascals | null;
  readonly latestAsRead: Kilopascals | null;
  /** What the wear library holds the true vacuum to be at the newest visit. */
  readonly levelSle: Kilopascals | null;
  /** Theil-Sen over the visits of the segment; null below three visits. */
  readonly slopePerYear: number | null;
  /** 90% limits of the slope. */
  readonly slopeLower: number | null;
  readonly slopeUpper: number | null;
}

/** Medians of the first three visits of the segment; null while there are fewer. */
export interface Baseline {
  readonly idleSle: Kilopascals | null;
  readonly lowestSle: Kilopascals | null;
  readonly recovery: Seconds | null;
}

export interface RecoveryTrend {
  readonly latest: Seconds | null;
  readonly baseline: Seconds | null;
  /** Seconds a year. */
  readonly slopePerYear: number | null;
}

export interface WearForecast extends FirstPassage {
  /** Probability of meeting the wear limit within a year, smoothed over two visits. */
  readonly score: number | null;
}

export const edgeCauses = ['stop', 'wear', 'belt', 'bulletin', 'limit passed'] as const;
export type EdgeCause = (typeof edgeCauses)[number];

/** One unit's verdict with everything a page shows of it. Plain JSON. */
export interface UnitAssessment {
  readonly unit: string;
  /** Null while laid up or gone from the fleet. */
  readonly mark: Mark | null;
  readonly standing: 'in use' | 'laid up' | 'left the fleet';
  /** Every rule that is true, worst mark first; the first names the mark. */
  readonly reasons: readonly Reason[];
  readonly asOf: DayNumber;
  /** Sound readings on record up to `asOf`, and those of the current segment. */
  readonly readingCount: number;
  readonly segmentReadingCount: number;
  /** Readings that cannot be true as recorded; nothing is judged by them. */
  readonly setAside: readonly { readonly readingId: string; readonly why: string }[];
  readonly latest: LatestReading | null;
  readonly idle: IdleTrend;
  readonly baseline: Baseline;
  readonly recovery: RecoveryTrend;
  readonly wear: WearForecast;
  /** The idle stop limit, as read, at the shed's own ambient pressure. */
  readonly stop: FirstPassage;
  readonly belt: BeltForecast;
  readonly diagnosis: Diagnosis;
  readonly segmentStart: DayNumber | null;
  /** The part whose fitting began the segment. */
  readonly segmentPart: Part | null;
  /** Expected idle vacuum ahead of the newest visit, for the chart. */
  readonly forecast: readonly ForecastPoint[];
  readonly nextReadingDue: DayNumber | null;
  /** Earliest early edge among all causes: what the yard sorts by. */
  readonly earliestEdge: DayNumber | null;
  readonly earliestEdgeCause: EdgeCause | null;
  readonly mayGoOut: boolean;
  /** What it takes to leave this mark. */
  readonly whatChangesItBack: string;
  readonly limitsVersion: number;
  readonly methodVersion: string;
}
