import type { BayUnit } from '@/lib/bay-card/snapshot';
import { isoFromDay } from '@/lib/calendar';

/** A unit as it stands on the bay list. */
export interface BayRow {
  readonly id: string;
  readonly note: string;
}

/** The top of a person's bay list, as the desk knows it before the device has been asked. */
export interface BayList {
  readonly personId: string;
  /** Units in the bay, those beyond `rows` too. */
  readonly count: number;
  readonly rows: readonly BayRow[];
}

type ListedUnit = Pick<BayUnit, 'id' | 'described' | 'inBay' | 'lastReadOn' | 'dueOn'>;

export const rowOf = ({ id, described, inBay, lastReadOn }: ListedUnit): BayRow => {
  const read = lastReadOn === null ? 'never read' : `read ${isoFromDay(lastReadOn)}`;
  return { id, note: `${inBay ?? described} · ${read}` };
};

/** What is in the bay: orders first, then the longest overdue. */
export const unitsInBay = <Unit extends ListedUnit>(units: readonly Unit[]): Unit[] =>
  units
    .filter(({ inBay }) => inBay !== null)
    .sort(
      (a, b) =>
        Number(b.inBay?.startsWith('order')) - Number(a.inBay?.startsWith('order')) ||
        (a.dueOn ?? 0) - (b.dueOn ?? 0) ||
        a.id.localeCompare(b.id),
    );
