import { parseArgs } from 'node:util';
import { dayFromIso } from '@/lib/calendar';
import { type DayNumber, type PressureUnit, pressureUnits } from '@/lib/measure';
import { failure, type Result, success } from '@/lib/result';

export const usage = `Judge a fleet from files, earliest need first. No database, no server.

  npm run --silent assess -- --units units.csv --readings readings.csv [options]

  --units FILE           unit, shed, elevation_m, built_on, build_range, tracked_from
  --readings FILE        one visit a line
  --fitments FILE        parts fitted; a pump, line, valve or booster begins a new trend
  --as-of DATE           judge as of that day; today otherwise
  --pressure-unit UNIT   psi, inHg or kPa, of table, CSV and sentences; psi otherwise
  --format FORMAT        table, csv or json; table otherwise
  --learn                learn the whole wear prior from this fleet first; takes minutes
  --out FILE             write there instead of standard output

Ends with 0; with 2 when rows were refused, each named on standard error; with 1 when a file or an
option cannot be used. A verdict defers to the service information in force, local law and a
licensed technician.
`;

const formats = ['table', 'csv', 'json'] as const;

export interface AssessOptions {
  readonly units: string;
  readonly readings: string;
  readonly fitments: string | null;
  readonly asOf: DayNumber;
  readonly pressureUnit: PressureUnit;
  readonly format: (typeof formats)[number];
  readonly isLearning: boolean;
  readonly out: string | null;
}

/** The options of the command, or what is wrong with them. */
export function assessOptions(
  args: readonly string[],
  today: DayNumber,
): Result<AssessOptions | 'help', string> {
  const parsed = parsedArgs(args);
  if (!parsed.ok) return parsed;
  const { values } = parsed.value;
  if (values.help) return success('help');
  if (!values.units) return failure('--units is missing.');
  if (!values.readings) return failure('--readings is missing.');
  const asOf = values['as-of'] === undefined ? today : dayFromIso(values['as-of']);
  if (asOf === null) {
    return failure(`--as-of ${values['as-of']} is no day. Write it as 2026-06-30.`);
  }
  const given = values['pressure-unit'] ?? 'psi';
  const pressureUnit = pressureUnits.find((unit) => unit.toLowerCase() === given.toLowerCase());
  if (!pressureUnit) return failure(`--pressure-unit ${given}: write psi, inHg or kPa.`);
  const format = formats.find((each) => each === (values.format ?? 'table'));
  if (!format) return failure(`--format ${values.format}: write table, csv or json.`);
  return success({
    units: values.units,
    readings: values.readings,
    fitments: values.fitments ?? null,
    asOf,
    pressureUnit,
    format,
    isLearning: values.learn ?? false,
    out: values.out ?? null,
  });
}

function parsedArgs(args: readonly string[]) {
  try {
    return success(
      parseArgs({
        args: [...args],
        options: {
          units: { type: 'string' },
          readings: { type: 'string' },
          fitments: { type: 'string' },
          'as-of': { type: 'string' },
          'pressure-unit': { type: 'string' },
          format: { type: 'string' },
          learn: { type: 'boolean' },
          out: { type: 'string' },
          help: { type: 'boolean', short: 'h' },
        },
      }),
    );
  } catch (error) {
    return failure(error instanceof Error ? error.message : String(error));
  }
}
