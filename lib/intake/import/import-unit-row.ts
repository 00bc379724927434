import { normaliseVin, validateVin } from '@/lib/bulletins/vin';
import { isoFromDay } from '@/lib/calendar';
import type { ImportedRow, ParseRow } from '@/lib/intake/import/imported-row';
import { MappedCells } from '@/lib/intake/import/mapped-cells';
import { distanceUnits } from '@/lib/measure';
import { failure, type Problem, success } from '@/lib/result';
import { unitNumberPattern } from '@/lib/unit-number';

const bodies = ['pickup', 'SUV', 'van', 'other'] as const;
const builtForm = /^(\d{4})(?:-(\d{2})(?:-(\d{2}))?)?$/;

/**
 * One row of units, to the columns of the unit table; a fact that the file has no column for is left out,
 * so that it stays as it is on record. The build date keeps the precision it is given with. A VIN is
 * told apart as where it is keyed: a wrong check digit refuses the row only where the digit is required.
 */
export const importUnitRow: ParseRow = (row, line, mapping, context) => {
  const cells = new MappedCells(row, line, mapping);
  const unit = cells.requiredName('unit').toUpperCase();
  if (unit !== '' && !unitNumberPattern.test(unit)) {
    cells.problem(
      'unit',
      'It is no number of a unit.',
      'Write at most 16 letters, digits and hyphens.',
    );
  }
  const shed = cells.requiredName('shed');
  const shedId = context.shedOf(shed);
  if (shed !== '' && !shedId) {
    cells.problem('shed', 'No such shed is on record.', 'Correct it, or have the shed added.');
  }
  const body = cells.word('body', bodies);
  if (row('body') === '') cells.problem('body', 'It is empty.', `Write ${bodies.join(', ')}.`);
  const odometerUnit = cells.word('odometer_unit', distanceUnits);
  if (row('odometer_unit') === '') {
    cells.problem('odometer_unit', 'It is empty.', 'Write mi or km, as the odometer shows.');
  }
  const isCheckDigitRequired = row('check_digit_required')
    ? cells.word('check_digit_required', ['yes', 'no']) !== 'no'
    : context.asksCheckDigit(unit);
  const { vin, odd } = vinOf(cells, { isCheckDigitRequired });
  const modelYear = cells.number('model_year');
  if (modelYear !== null && !(Number.isInteger(modelYear) && between(modelYear, 1980, 2100))) {
    cells.problem('model_year', 'It is no model year.', 'Write a year from 1980 to 2100.');
  }
  const built = builtOf(cells, row('built_on'));
  const trackedFrom = cells.requiredDay('tracked_from');
  const has = (field: string) => mapping.columns[field] !== undefined;
  const known = {
    ...(has('vin') && { vin }),
    ...(has('make') && { make: cells.name('make') }),
    ...(has('model') && { model: cells.name('model') }),
    ...(has('engine') && { engine: cells.name('engine') }),
    ...(has('tire_size') && { tire_size: cells.name('tire_size') }),
    ...(has('model_year') && { model_year: modelYear }),
    ...(has('built_on') && built),
  };
  if (cells.problems.length > 0 || !shedId || !body || !odometerUnit) {
    return failure(cells.problems);
  }
  const imported: ImportedRow = {
    line,
    unit,
    key: unit,
    values: {
      shed_id: shedId,
      ...known,
      is_check_digit_required: isCheckDigitRequired,
      body,
      odometer_unit: odometerUnit,
      tracked_from: isoFromDay(trackedFrom),
    },
    odd,
  };
  return success(imported);
};

function vinOf(
  cells: MappedCells,
  market: { readonly isCheckDigitRequired: boolean },
): { readonly vin: string | null; readonly odd: readonly Problem[] } {
  const text = cells.name('vin');
  if (text === null) return { vin: null, odd: [] };
  const told = validateVin(text, market);
  if (told.ok) return { vin: normaliseVin(text), odd: told.value.warnings.map(onLine) };
  cells.problems.push(...told.error.map(onLine));
  return { vin: null, odd: [] };

  function onLine(problem: Problem): Problem {
    return { ...problem, line: cells.line };
  }
}

const between = (value: number, least: number, most: number) => value >= least && value <= most;

function builtOf(cells: MappedCells, text: string) {
  const [, year, month, day] = builtForm.exec(text) ?? [];
  const built = {
    built_year: year === undefined ? null : Number(year),
    built_month: month === undefined ? null : Number(month),
    built_day: day === undefined ? null : Number(day),
  };
  const isReal =
    year !== undefined &&
    between(Number(year), 1960, 2100) &&
    cells.isDay(`${Number(year) < 1980 ? 1980 : year}-${month ?? '01'}-${day ?? '01'}`);
  if (text !== '' && !isReal) {
    cells.problem(
      'built_on',
      'It is no date of the calendar.',
      'Write 2023, 2023-05 or 2023-05-17.',
    );
  }
  return built;
}
