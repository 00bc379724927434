import type { Role } from '@/lib/access';
import type { Applicability } from '@/lib/bulletins/applies-to-unit';
import type { FittedPart, RequiredPart } from '@/lib/bulletins/required-parts';
import type { DayNumber } from '@/lib/measure';

export const bulletinKinds = [
  'do not drive until done',
  'mandatory',
  'recommended',
  'information',
] as const;
export type BulletinKind = (typeof bulletinKinds)[number];

export const bulletinStatuses = [
  'undecided',
  'open',
  'does not apply',
  'planned',
  'done',
  'not needed',
  'refused',
  'superseded',
] as const;
export type BulletinStatus = (typeof bulletinStatuses)[number];

/** What the status of a unit under a bulletin depends on. */
export interface BulletinTerms {
  readonly kind: BulletinKind;
  /** Empty where it asks for no particular part. */
  readonly requiredParts: readonly RequiredPart[];
}

export interface BulletinState {
  readonly status: BulletinStatus;
  readonly reason: string;
  /** Only while refused. */
  readonly reviewOn: DayNumber | null;
}

export type BulletinEvent =
  /** A correction of the record may close what is open; a new reading or odometer may not. */
  | {
      readonly type: 'judged';
      readonly answer: Applicability;
      readonly why: string;
      readonly isCorrection: boolean;
    }
  | { readonly type: 'order placed' }
  | { readonly type: 'order withdrawn' }
  | { readonly type: 'order closed'; readonly fitted: readonly FittedPart[] }
  | { readonly type: 'inspected'; readonly role: Role; readonly finding: string }
  | {
      readonly type: 'refused';
      readonly role: Role;
      readonly reason: string;
      readonly on: DayNumber;
      readonly reviewOn: DayNumber;
    }
  | { readonly type: 'review date reached'; readonly on: DayNumber }
  | ({ readonly type: 'part fitted' } & FittedPart)
  | { readonly type: 'later issue'; readonly number: string; readonly issue: string };
