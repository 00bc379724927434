import type { DayNumber, Kilometres, Kilopascals, Metres, Seconds } from '@/lib/measure';

export const lineStates = ['dry', 'film', 'wet', 'not seen'] as const;
/** Inside of the vacuum line at the booster. */
export type LineState = (typeof lineStates)[number];

export const pedalStates = ['normal', 'went hard', 'hard'] as const;
/** `went hard` by the fourth press; `hard` from the start. */
export type PedalState = (typeof pedalStates)[number];

export const beltStates = ['sound', 'cracked', 'oily', 'shredded', 'off', 'not seen'] as const;
export type BeltState = (typeof beltStates)[number];

/** One visit's measurements of one unit, amendments already applied. `null` is "could not". */
export interface Reading {
  readonly id: string;
  readonly readOn: DayNumber;
  /** Order of entry; breaks ties within a day. */
  readonly entry: number;
  readonly idle: Kilopascals | null;
  readonly raised: Kilopascals | null;
  /** Least vacuum over four full presses. */
  readonly lowest: Kilopascals | null;
  /** Last release until within 0.5 psi of idle. */
  readonly recovery: Seconds | null;
  readonly holdLoss: Kilopascals | null;
  /** How long the hold was; 60 s by default, 300 s in older records. */
  readonly holdTime: Seconds | null;
  readonly line: LineState;
  readonly pedal: PedalState | null;
  readonly belt: BeltState | null;
  /** Station pressure, absolute; null takes the standard atmosphere at the shed's elevation. */
  readonly barometer: Kilopascals | null;
  /** Of the shed where it was read; the unit's own shed where left out. */
  readonly elevation?: Metres;
  readonly odometer: Kilometres | null;
  readonly technician: string | null;
  readonly gauge: string | null;
}

export const parts = ['pump', 'belt', 'booster', 'line', 'check valve'] as const;
export type Part = (typeof parts)[number];
/** Parts whose fitting changes the source of vacuum and so begins a new segment. */
export const segmentParts: readonly Part[] = ['pump', 'booster', 'line', 'check valve'];

export const removalReasons = [
  'failed',
  'worn',
  'preventive',
  'repaired',
  'bulletin',
  'other',
] as const;
export type RemovalReason = (typeof removalReasons)[number];

/** A part's life on a unit. */
export interface Fitment {
  readonly part: Part;
  readonly revision: string | null;
  readonly fittedOn: DayNumber | null;
  readonly fittedOdometer: Kilometres | null;
  readonly removedOn: DayNumber | null;
  readonly removedOdometer: Kilometres | null;
  readonly whyRemoved: RemovalReason | null;
}

/** The facts of a unit that the analysis needs. */
export interface UnitFacts {
  readonly unit: string;
  readonly elevation: Metres;
  readonly builtOn: DayNumber | null;
  /** First day that the fleet answers for the unit's readings. */
  readonly trackedFrom: DayNumber | null;
}
