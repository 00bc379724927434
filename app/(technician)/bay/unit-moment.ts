import { moment } from '@/app/_ui/format';
import type { BaySnapshot } from '@/lib/bay-card/snapshot';

/** Date, hour and minute on the clock of the unit's shed; of UTC, and saying so, where no shed is known. */
export function unitMoment(instant: Date, unitId: string, snapshot: BaySnapshot | null): string {
  const shedId = snapshot?.units.find(({ id }) => id === unitId)?.shedId;
  const timeZone = snapshot?.sheds.find(({ id }) => id === shedId)?.timeZone;
  return timeZone ? moment(instant, timeZone) : `${moment(instant, 'UTC')} UTC`;
}
