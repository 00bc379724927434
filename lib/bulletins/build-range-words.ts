import type { BuildRange } from '@/lib/bulletins/build-ranges';
import { isoFromDay } from '@/lib/calendar';
import type { DayNumber } from '@/lib/measure';

/** A month where the stretch begins or ends with it, otherwise the day. */
const monthOr = (day: DayNumber, beside: DayNumber): string => {
  const [iso, other] = [isoFromDay(day), isoFromDay(beside)];
  return iso.slice(0, 7) === other.slice(0, 7) ? iso : iso.slice(0, 7);
};

function stretchWords(from: DayNumber | null, to: DayNumber | null): string {
  const first = from === null ? null : monthOr(from, from - 1);
  const last = to === null ? null : monthOr(to, to + 1);
  if (first === null) return last === null ? 'any build date' : `${last} or earlier`;
  return last === null ? `${first} or later` : first === last ? first : `${first} to ${last}`;
}

/**
 * When the units of a build range were built, and what else the bulletins ask of them. A boundary
 * within a month is told to the day.
 *
 * Thin data: a stretch that the record leaves open reads `build date not settled`.
 * Example: 1 March to 14 May 2019 reads `2019-03 to 2019-05-14`.
 */
export const buildRangeWords = ({
  from,
  to,
  isDateOpen,
  attributes,
}: Pick<BuildRange, 'from' | 'to' | 'isDateOpen' | 'attributes'>): string =>
  [isDateOpen ? 'build date not settled' : stretchWords(from, to), ...attributes].join(', ');
