import type { TraceSample } from '@/lib/analysis/trace';
import { type PressureUnit, pressureUnits, type Seconds, toKilopascals } from '@/lib/measure';
import { failure, type Problem, type Result, success } from '@/lib/result';

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

const separators = ['\t', ';', ',', '|'] as const;
const timeNames = /^\s*["']?(t|time|elapsed|seconds?|sec|ms)\b|^t_/i;
const pressureNames = /vac|press|psi|inhg|kpa|in\.? ?hg/i;
/** More than this many bad lines are counted rather than listed. */
const mostProblems = 20;

const problem = (field: string, message: string, mend: string): readonly Problem[] => [
  { field, message, mend },
];

/**
 * Text of a logging gauge's file: time in seconds from its first line, vacuum in kPa below ambient.
 * Takes comma, semicolon, tab or bar, decimal commas where the comma does not separate, lines before
 * the heading, times as seconds, milliseconds or hh:mm:ss, and vacuum written as negative pressure.
 * Thin or bad data: problems by line, each with what to do; the unit is asked for, never guessed.
 *
 * @example parseTraceCsv('t_s,vacuum_psi\n0,13') gives one sample of 89.63 kPa
 */
export function parseTraceCsv(text: string, columns: TraceColumns = {}): Result<ParsedTrace> {
  const lines = text.replace(/^\uFEFF/, '').split(/\r\n|\r|\n/);
  const separator = separatorOf(lines);
  if (separator === null)
    return failure(
      problem('file', 'No line holds two columns.', 'Choose the file that the gauge exported.'),
    );
  const rows = lines.map((line) =>
    line.split(separator).map((cell) => cell.trim().replace(/^"(.*)"$/, '$1')),
  );
  const firstRow = rows.findIndex(
    (row) => row.filter((cell) => isValue(cell, separator)).length >= 2,
  );
  if (firstRow === -1)
    return failure(
      problem('file', 'No line holds two numbers.', 'Choose the file that the gauge exported.'),
    );
  const heading = rows.slice(0, firstRow).findLast((row) => row.length >= 2) ?? [];
  const time = columnOf(columns.time, heading, timeNames, 0);
  const pressure = columnOf(columns.pressure, heading, pressureNames, time === 1 ? 0 : 1);
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

/** The separator that most lines share, the rarest character in prose first. */
function separatorOf(lines: readonly string[]): (typeof separators)[number] | null {
  const counts = separators.map(
    (separator) => lines.filter((line) => line.includes(separator)).length,
  );
  const most = Math.max(...counts);
  return most === 0 ? null : separators[counts.indexOf(most)]!;
}

function columnOf(
  chosen: string | number | undefined,
  heading: readonly string[],
  names: RegExp,
  otherwise: number,
): number | null {
  if (typeof chosen === 'number') return chosen - 1;
  if (chosen !== undefined) {
    const named = heading.findIndex((name) => name.toLowerCase() === chosen.toLowerCase());
    return named === -1 ? null : named;
  }
  const found = heading.findIndex((name) => names.test(name));
  return found === -1 ? otherwise : found;
}

function unitIn(heading: string): PressureUnit | null {
  const plain = heading.toLowerCase().replace(/[^a-z]/g, '');
  return pressureUnits.find((unit) => plain.includes(unit.toLowerCase())) ?? null;
}

function numberIn(cell: string, separator: string): number | null {
  const text = separator === ',' ? cell : cell.replace(',', '.');
  return /^[-+]?(\d+\.?\d*|\.\d+)(e[-+]?\d+)?$/i.test(text) ? Number(text) : null;
}

function secondsIn(cell: string, separator: string): Seconds | null {
  const clock = /^(?:.*[ T])?(\d{1,2}):(\d{2}):(\d{2}(?:[.,]\d+)?)$/.exec(cell);
  if (!clock) return numberIn(cell, separator);
  return Number(clock[1]) * 3600 + Number(clock[2]) * 60 + Number(clock[3]!.replace(',', '.'));
}

const isValue = (cell: string, separator: string): boolean => secondsIn(cell, separator) !== null;
