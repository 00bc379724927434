import { checkPlausibility } from '@/lib/analysis/plausibility';
import { beltStates, lineStates, pedalStates } from '@/lib/analysis/reading';
import { isoFromDay, localDay } from '@/lib/calendar';
import {
  type ImportContext,
  type ImportPlace,
  type ParseRow,
  unitOnRecord,
} from '@/lib/intake/import/imported-row';
import { MappedCells } from '@/lib/intake/import/mapped-cells';
import { isPlainText } from '@/lib/plain-text';
import { failure, success } from '@/lib/result';

/** Column in which each field of the plausibility check stands. */
const columnOf: Readonly<Record<string, string>> = {
  idle: 'idle_vacuum',
  raised: 'raised_vacuum',
  recovery: 'recovery_s',
  holdLoss: 'hold_loss',
  holdTime: 'hold_minutes',
};
const inColumn = (field: string) => columnOf[field] ?? field;

const clockAheadAllowedMs = 48 * 3_600_000;
const longestNote = 2000;

/**
 * One row of readings, to the columns of the reading table. The key is the file's own number of the
 * reading, or the unit and the time where there is none. An empty cell is "could not".
 */
export const importReadingRow: ParseRow = (row, line, mapping, context) => {
  const cells = new MappedCells(row, line, mapping);
  const { unit, place } = unitOnRecord(cells, context);
  const time = timeOf(cells, row, place, context);
  const rowUnit = mapping.columns.pressure_unit === undefined ? null : cells.rowUnit();
  const minutes = cells.number('hold_minutes');
  const measured = {
    idle: cells.pressure('idle_vacuum', rowUnit),
    raised: cells.pressure('raised_vacuum', rowUnit),
    lowest: cells.pressure('lowest', rowUnit),
    recovery: cells.number('recovery_s'),
    holdLoss: cells.pressure('hold_loss', rowUnit),
    holdTime: minutes === null ? null : minutes * 60,
    barometer: cells.number('barometer'),
    odometer: cells.distance('odometer'),
  };
  const lineState = cells.word('line', lineStates) ?? 'not seen';
  const pedal = cells.word('pedal', pedalStates);
  const belt = cells.word('belt', beltStates);
  const gauge = gaugeOf(cells, row, context);
  const technician = cells.name('technician');
  const technicianId = technician === null ? undefined : context.personOf(technician);
  const note = noteOf(cells, row('note'));
  const number = cells.name('reading');
  if (cells.problems.length > 0 || !place || !time) return failure(cells.problems);
  const { readOn, readAt } = time;
  // Spelt out: an object made by spreading is one that the engine keeps and writes slowly.
  const draft = {
    readOn,
    idle: measured.idle,
    raised: measured.raised,
    lowest: measured.lowest,
    recovery: measured.recovery,
    holdLoss: measured.holdLoss,
    holdTime: measured.holdTime,
    barometer: measured.barometer,
    odometer: measured.odometer,
    keyedIn: cells.unitOf('idle_vacuum', rowUnit),
  };
  const { problems, questions } = checkPlausibility(draft, {
    elevation: place.elevation,
    expectedIdleSle: null,
    lastOdometer: null,
  });
  if (problems.length > 0) {
    return failure(problems.map((one) => ({ ...one, field: inColumn(one.field), line })));
  }
  return success({
    line,
    unit,
    key: number ?? `${unit}|${readAt.toISOString()}`,
    values: {
      unit_id: unit,
      shed_id: place.shedId,
      technician_id: technicianId ?? null,
      technician_label: technicianId ? null : (technician ?? 'not named'),
      gauge_id: gauge,
      read_on: isoFromDay(readOn),
      read_at: readAt.toISOString(),
      idle_vacuum_kpa: measured.idle,
      raised_vacuum_kpa: measured.raised,
      lowest_kpa: measured.lowest,
      recovery_s: measured.recovery,
      hold_loss_kpa: measured.holdLoss,
      hold_time_s: measured.holdLoss === null ? null : measured.holdTime,
      barometer_kpa: measured.barometer,
      odometer_km: measured.odometer,
      line: lineState,
      pedal,
      belt,
      note,
    },
    odd: questions.map(({ field, message }) => ({
      field: inColumn(field),
      line,
      message,
      mend: 'It stands as written. Amend the reading where it is wrong.',
    })),
  });
};

/** The day, and the instant: noon of the shed where the file knows the day alone. */
function timeOf(
  cells: MappedCells,
  row: (field: string) => string,
  place: ImportPlace | undefined,
  { now, noonOf }: ImportContext,
) {
  const timeZone = place?.timeZone ?? 'UTC';
  const day = cells.day('read_on');
  const instant = cells.instant('read_at', timeZone);
  if (row('read_on') === '' && row('read_at') === '') {
    cells.problem('read_on', 'It is empty.', 'Write the day, for example 2026-06-30.');
  }
  const readOn = instant ? localDay(instant, timeZone) : day;
  if (readOn === null) return null;
  if (day !== null && day !== readOn) {
    cells.problem(
      'read_at',
      `By the clock of the shed that was on ${isoFromDay(readOn)}, not on the day of the row.`,
      'Correct one of the two.',
    );
  }
  const readAt = instant ?? noonOf(readOn, timeZone);
  if (readAt.getTime() - now.getTime() > clockAheadAllowedMs) {
    const field = instant ? 'read_at' : 'read_on';
    cells.problem(field, 'It lies in the future.', 'Correct the date.');
  }
  return { readOn, readAt };
}

function noteOf(cells: MappedCells, text: string): string | null {
  if (text === '') return null;
  if (text.length <= longestNote && isPlainText(text)) return text;
  return cells.problem(
    'note',
    'It holds characters that cannot be shown, or too many.',
    `Write plain text of at most ${longestNote} characters.`,
  );
}

function gaugeOf(cells: MappedCells, row: (field: string) => string, { gaugeOf }: ImportContext) {
  const label = row('gauge');
  if (label === '') return null;
  return (
    gaugeOf(label) ??
    cells.problem('gauge', 'No such gauge is on record.', 'Correct it, or leave the column out.')
  );
}
