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
import type { Fitment, Reading, UnitFacts } from '@/lib/analysis/reading';
import type { DayNumber, Kilopascals, Seconds } from '@/lib/measure';

export interface BulletinDue {
  readonly bulletinId: string;
  readonly number: string;
  readonly dueOn: DayNumber | null;
  readonly isDoNotDrive: boolean;
}

/** All that a verdict rests on; everything but the first six may be left out. */
export interface AssessUnitInput {
  readonly unit: UnitFacts;
  readonly readings: readonly Reading[];
  readonly fitments: readonly Fitment[];
  readonly limits: Limits;
  readonly prior: FleetPrior;
  readonly asOf: DayNumber;
  readonly openSpell?: {
    readonly spellId: string;
    readonly why: string;
    readonly openedOn: DayNumber;
  } | null;
  readonly releasedOn?: DayNumber | null;
  /** Proof readings release a unit; they do not count among the two that end Proving. */
  readonly proofReadingIds?: readonly string[];
  readonly vacuumOrderClosedOn?: DayNumber | null;
  readonly bulletinsDue?: readonly BulletinDue[];
  /** Kilometres a day of the fleet's middle unit. */
  readonly fleetBeltRate?: number | null;
  readonly laidUpOn?: DayNumber | null;
  readonly leftFleetOn?: DayNumber | null;
}

export interface AssessedReading {
  readonly readingId: string;
  readonly readOn: DayNumber;
  readonly ambient: Kilopascals;
  readonly idleSle: Kilopascals | null;
  readonly idleAsRead: Kilopascals | null;
  readonly lowestSle: Kilopascals | null;
  readonly isInCurrentSegment: boolean;
  /** The library asked for a second reading of this visit. */
  readonly isUnconfirmed: boolean;
}

export interface UnitAssessment {
  readonly unit: string;
  /** Null for a unit laid up or gone: a dated fact, no mark. */
  readonly mark: Mark | null;
  /** Every true reason, worst mark first. */
  readonly reasons: readonly Reason[];
  readonly asOf: DayNumber;
  readonly readingCount: number;
  /** Every reading up to `asOf`, oldest first. */
  readonly series: readonly AssessedReading[];
  readonly latest:
    | (AssessedReading & {
        readonly lowestAsRead: Kilopascals | null;
        readonly recovery: Seconds | null;
        readonly holdLoss: Kilopascals | null;
        readonly holdTime: Seconds | null;
        readonly line: Reading['line'];
        readonly pedal: Reading['pedal'];
      })
    | null;
  readonly segmentStart: DayNumber | null;
  readonly idle: {
    readonly latestSle: Kilopascals | null;
    readonly latestAsRead: Kilopascals | null;
    readonly levelSle: Kilopascals | null;
    readonly baselineSle: Kilopascals | null;
    /** Theil–Sen over the segment, kPa of SLE a year, with its 90% interval. */
    readonly slopePerYear: number | null;
    readonly slopeLower: number | null;
    readonly slopeUpper: number | null;
  };
  readonly wear: {
    readonly score: number | null;
    readonly limitSle: Kilopascals;
    readonly passage: FirstPassage;
  };
  /** The idle stop limit at the shed's own ambient pressure. */
  readonly stop: {
    readonly limitSle: Kilopascals;
    readonly limitAsRead: Kilopascals;
    readonly passage: FirstPassage;
  };
  readonly recoverySlopePerYear: number | null;
  readonly belt: BeltForecast;
  readonly diagnosis: Diagnosis;
  readonly forecast: readonly ForecastPoint[];
  readonly nextReadingDue: DayNumber | null;
  /** Earliest day by which anything wants the bay: what the yard sorts by. */
  readonly earliestEdge: DayNumber | null;
  readonly mayGoOut: boolean;
  readonly whatChangesItBack: string;
  readonly limitsVersion: number;
  readonly methodVersion: string;
}
