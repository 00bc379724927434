import type { BulletinKind, BulletinStatus } from '@/lib/bulletins/bulletin-state';
import type { DayNumber } from '@/lib/measure';

export interface BulletinUrgency {
  readonly kind: BulletinKind;
  readonly dueOn: DayNumber | null;
  /** A do-not-drive bulletin stands nothing down until a safety officer has approved it. */
  readonly isApproved: boolean;
}

const isOwed = (status: BulletinStatus): boolean => status === 'open' || status === 'planned';

/** Whether the unit must not be driven until the bulletin is done. */
export const opensSpell = (bulletin: BulletinUrgency, status: BulletinStatus): boolean =>
  bulletin.kind === 'do not drive until done' && bulletin.isApproved && isOwed(status);

/** Whether the work is owed by a day within the horizon; overdue work is. */
export const isDueWithin = (
  bulletin: BulletinUrgency,
  status: BulletinStatus,
  asOf: DayNumber,
  horizonDays: number,
): boolean => isOwed(status) && bulletin.dueOn !== null && bulletin.dueOn <= asOf + horizonDays;

/** What a safety officer sees before approving: who would stand down, and who cannot be told yet. */
export interface StandDownPreview {
  readonly standDown: readonly string[];
  readonly undecided: readonly string[];
}

export function previewStandDown(
  rows: readonly { readonly unit: string; readonly status: BulletinStatus }[],
): StandDownPreview {
  return {
    standDown: rows.filter(({ status }) => isOwed(status)).map(({ unit }) => unit),
    undecided: rows.filter(({ status }) => status === 'undecided').map(({ unit }) => unit),
  };
}
