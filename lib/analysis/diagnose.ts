import type { Diagnosis } from '@/lib/analysis/assessment';
import type { LineState } from '@/lib/analysis/reading';
import type { Kilopascals, Seconds } from '@/lib/measure';

/** What one visit shows, against the unit's own baseline. `null` is "not measured". */
export interface DiagnosisInput {
  /** Own baseline less this reading, SLE; positive is worse. */
  readonly idleDrop: Kilopascals | null;
  readonly lowestDrop: Kilopascals | null;
  readonly recovery: Seconds | null;
  readonly recoveryBaseline: Seconds | null;
  /** As read, with its own duration. */
  readonly holdLoss: Kilopascals | null;
  readonly holdTime: Seconds | null;
  /** Idle vacuum as read: what a hold starts from. */
  readonly idle: Kilopascals | null;
  /** Vacuum at raised speed less idle vacuum, as read. */
  readonly raisedDifference: Kilopascals | null;
  readonly line: LineState;
}

export declare function diagnose(input: DiagnosisInput): Diagnosis;
