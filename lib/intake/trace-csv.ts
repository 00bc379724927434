import type { TraceSample } from '@/lib/analysis/trace';
import { type PressureUnit, pressureUnits, toKilopascals } from '@/lib/measure';
import { failure, type Problem, type Result, success } from '@/lib/result';
import { numberIn, secondsIn, traceLayout } from './trace-layout';

/** Which columns a logging gauge writes and how; what is left out is read from the heading. */
export interface TraceColumns {
  /** Heading, or number of the column from 1. */
  readonly time?: string | number;
  readonly pressure?: string | number;
  readonly pressureUnit?: PressureUnit;
  readonly timeUnit?: 's' | 'ms';
}

export interface ParsedTrace {
  readonly samples: readonly TraceSample[];
  readonly pressureUnit: PressureUnit;
  readonly timeHeading: string;
  readonly pressureHeading: string;
}

/** More than this many bad lines are counted rather than listed. */
const mostProblems = 20;

const problem = (field: string, message: string, mend: string): readonly Problem[] => [
  { field, message, mend },
];

/**
 * Text of a logging gauge's file: time in seconds from its first line, vacuum in kPa below ambient.
 * Takes comma, semicolon, tab, bar or blanks, decimal commas where the comma does not separate, lines before
 * the heading, times as seconds, milliseconds or hh:mm:ss, and vacuum written as negative pressure.
 * Thin or bad data: problems by line, each with what to do; the unit is asked for, never guessed.
 *
 * @example parseTraceCsv('t_s,vacuum_psi\n0,13') gives one sample of 89.63 kPa
 */
export function parseTraceCsv(text: string, columns: TraceColumns = {}): Result<ParsedTrace> {
  const layout = traceLayout(text);
  if (layout === null)
    return failure(
      problem('file', 'No line holds two numbers.', 'Choose the file that the gauge exported.'),
    );
  const { rows, firstRow, heading, separator } = layout;
  const time = columnOf(columns.time, heading, layout.time);
  const pressure = columnOf(columns.pressure, heading, layout.pressure);
  if (time === null || pressure === null)
    return failure(
      problem(
        time === null ? 'time' : 'pressure',
        `There is no column called ${String(time === null ? columns.time : columns.pressure)}.`,
        `The columns are: ${heading.join(', ')}.`,
      ),
    );
  const timeHeading = heading[time] ?? '';
  const pressureHeading = heading[pressure] ?? '';
  const pressureUnit = columns.pressureUnit ?? unitIn(pressureHeading);
  if (pressureUnit === null)
    return failure(
      problem(
        'pressureUnit',
        'The heading does not name the unit of pressure.',
        `Choose ${pressureUnits.join(', ')}.`,
      ),
    );
  const inMilliseconds =
    columns.timeUnit === 'ms' ||
    (columns.timeUnit === undefined && /(^|[^a-z])ms\b|milli/i.test(timeHeading));

  const problems: Problem[] = [];
  const read: TraceSample[] = [];
  rows.forEach((row, index) => {
    if (index < firstRow || row.every((cell) => cell === '')) return;
    const t = secondsIn(row[time] ?? '', separator);
    const vacuum = numberIn(row[pressure] ?? '', separator);
    if (t !== null && vacuum !== null) {
      read.push({ t, vacuum: toKilopascals(vacuum, pressureUnit) });
      return;
    }
    problems.push({
      field: t === null ? 'time' : 'pressure',
      line: index + 1,
      value: (t === null ? row[time] : row[pressure]) ?? '',
      message: `Line ${index + 1} has no ${t === null ? 'time' : 'pressure'} that can be read.`,
      mend: 'Remove the line, or export the trace again.',
    });
  });
  if (problems.length > 0) return failure(problems.slice(0, mostProblems));
  const start = read[0]!.t;
  const isNegative = read.filter(({ vacuum }) => vacuum < 0).length > read.length / 2;
  const sign = isNegative ? -1 : 1;
  return success({
    samples: read.map(({ t, vacuum }) => ({
      t: inMilliseconds ? (t - start) / 1000 : t - start,
      vacuum: sign * vacuum,
    })),
    pressureUnit,
    timeHeading,
    pressureHeading,
  });
}

function columnOf(
  chosen: string | number | undefined,
  heading: readonly string[],
  otherwise: number,
): number | null {
  if (chosen === undefined) return otherwise;
  if (typeof chosen === 'number') return chosen - 1;
  const named = heading.findIndex((name) => name.toLowerCase() === chosen.toLowerCase());
  return named === -1 ? null : named;
}

/** `unitIn('vacuum_psi')` is `psi`; null where no heading names a unit. */
export function unitIn(heading: string): PressureUnit | null {
  const plain = heading.toLowerCase().replace(/[^a-z]/g, '');
  return pressureUnits.find((unit) => plain.includes(unit.toLowerCase())) ?? null;
}
