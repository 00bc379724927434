import { isoFromDay } from '@/lib/calendar';
import { type ImportContext, type ParseRow, unitOnRecord } from '@/lib/intake/import/imported-row';
import { MappedCells } from '@/lib/intake/import/mapped-cells';
import { failure, success } from '@/lib/result';

const longestWhy = 300;

/**
 * One row of work orders. An order with a day on which it was finished is history and comes in closed,
 * signed by a person on record; one without is open and comes in as raised.
 */
export const importOrderRow: ParseRow = (row, line, mapping, context) => {
  const cells = new MappedCells(row, line, mapping);
  const { unit, place } = unitOnRecord(cells, context);
  const order = cells.requiredName('order');
  const why = row('why').slice(0, longestWhy);
  if (why === '') cells.problem('why', 'It is empty.', 'Say why the order was raised.');
  const raisedOn = cells.requiredDay('raised_on');
  const wantedBy = cells.day('wanted_by');
  const finishedOn = cells.day('finished_on');
  const finisher = row('finished_by');
  const finishedBy = context.personOf(finisher);
  if (finishedOn !== null && !finishedBy) {
    cells.problem(
      'finished_by',
      finisher === '' ? 'It is empty.' : 'No such person is on record.',
      'Write the badge or e-mail address of who finished it.',
    );
  }
  if (finishedOn === null && finisher !== '') {
    cells.problem('finished_on', 'It is empty, though somebody finished it.', 'Write the day.');
  }
  if (finishedOn !== null && finishedOn < raisedOn) {
    cells.problem('finished_on', 'It lies before the order was raised.', 'Correct one of the two.');
  }
  const tasks = tasksOf(cells, row('tasks'), context);
  const odometer = cells.distance('odometer');
  const noon = (day: number | null) =>
    day === null || !place ? null : context.noonOf(day, place.timeZone);
  const finishedAt = noon(finishedOn);
  const raisedAt = noon(raisedOn);
  for (const [field, at] of [
    ['raised_on', raisedAt],
    ['finished_on', finishedAt],
  ] as const) {
    if (at && at.getTime() - context.now.getTime() > 48 * 3_600_000) {
      cells.problem(field, 'It lies in the future.', 'Correct the date.');
    }
  }
  if (cells.problems.length > 0 || !raisedAt) return failure(cells.problems);
  const isClosed = finishedAt !== null;
  return success({
    line,
    unit,
    key: `order ${order}`,
    values: {
      unit_id: unit,
      state: isClosed ? 'closed' : 'raised',
      why: `${why} (order ${order} of the file)`,
      raised_at: raisedAt.toISOString(),
      wanted_by: wantedBy === null ? null : isoFromDay(wantedBy),
      finished_by: isClosed ? (finishedBy ?? null) : null,
      finished_at: finishedAt?.toISOString() ?? null,
      finished_odometer_km: isClosed ? odometer : null,
      closed_at: finishedAt?.toISOString() ?? null,
      tasks,
    },
    odd: [],
  });
};

/** Names of tasks as the fleet's templates have them. */
function tasksOf(cells: MappedCells, text: string, { templateOf }: ImportContext) {
  const kinds = text
    .split(';')
    .map((one) => one.trim().toLowerCase())
    .filter((one) => one !== '');
  if (kinds.length === 0) cells.problem('tasks', 'It is empty.', 'Write the tasks of the order.');
  return kinds.flatMap((kind) => {
    const template = templateOf(kind);
    if (template) return [{ kind, ...template }];
    cells.problem(
      'tasks',
      'The fleet has no task of that name.',
      'Write names of its tasks.',
      kind,
    );
    return [];
  });
}
