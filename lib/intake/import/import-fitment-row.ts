import { removalReasons } from '@/lib/analysis/reading';
import { isoFromDay } from '@/lib/calendar';
import { partNames } from '@/lib/intake/fitment-row';
import { type ParseRow, unitOnRecord } from '@/lib/intake/import/imported-row';
import { MappedCells } from '@/lib/intake/import/mapped-cells';
import { failure, success } from '@/lib/result';

/** One row of fitments: a part fitted on a day in place of the one before it. */
export const importFitmentRow: ParseRow = (row, line, mapping, context) => {
  const cells = new MappedCells(row, line, mapping);
  const { unit, place } = unitOnRecord(cells, context);
  const names = Object.keys(partNames) as (keyof typeof partNames)[];
  const name = cells.word('part', names);
  if (row('part') === '') cells.problem('part', 'It is empty.', `Write ${names.join(', ')}.`);
  const fittedOn = cells.requiredDay('fitted_on');
  const fitted = {
    fitted_odometer_km: cells.distance('odometer'),
    revision: cells.name('revision'),
    date_code: cells.name('date_code'),
    why_removed: cells.word('why_replaced', removalReasons) ?? 'other',
  };
  const time = place && context.noonOf(fittedOn, place.timeZone);
  if (time && time.getTime() - context.now.getTime() > 48 * 3_600_000) {
    cells.problem('fitted_on', 'It lies in the future.', 'Correct the date.');
  }
  if (cells.problems.length > 0 || name === null) return failure(cells.problems);
  const part = partNames[name];
  return success({
    line,
    unit,
    key: `${unit}|${part}|${isoFromDay(fittedOn)}`,
    values: { unit_id: unit, part, fitted_on: isoFromDay(fittedOn), ...fitted },
    odd: [],
  });
};
