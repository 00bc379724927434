import type { TraceSample } from '@/lib/analysis/trace';
import { isClock, numberIn, secondsIn, traceLayout } from '@/lib/intake/trace-layout';
import {
  isAbsolute,
  kilopascalsOf,
  pressureUnitIn,
  secondsOf,
  type TracePressureUnit,
  type TraceTimeUnit,
  timeUnitIn,
  tracePressureUnits,
} from '@/lib/intake/trace-units';
import { failure, type Problem, type Result, success } from '@/lib/result';

/** Which columns a logging gauge writes and how; what is left out is read from the heading. */
export interface TraceColumns {
  /** Heading, or number of the column from 1. */
  readonly time?: string | number;
  readonly pressure?: string | number;
  readonly pressureUnit?: TracePressureUnit;
  /** Of times written as figures; a clock's stand for themselves. */
  readonly timeUnit?: TraceTimeUnit;
}

export interface ParsedTrace {
  readonly samples: readonly TraceSample[];
  readonly pressureUnit: TracePressureUnit;
  readonly timeHeading: string;
  readonly pressureHeading: string;
  /** Lines with a time and no pressure that can be read, left out. */
  readonly missed: number;
}

/** More than this many bad lines are counted rather than listed. */
const mostProblems = 20;
/** A logger drops a value now and then; more than this share is another kind of file. */
const mostMissed = 0.02;
const daySeconds = 86_400;

const problem = (field: string, message: string, mend: string): readonly Problem[] => [
  { field, message, mend },
];

/**
 * Text of a logging gauge's file: time in seconds from its first line, vacuum in kPa below ambient.
 * Takes comma, semicolon, tab, bar or blanks, decimal commas where the comma does not separate, lines before
 * the heading and after the log, times as figures or a clock's, and vacuum written as negative pressure.
 * A line whose pressure the logger dropped is left out and counted, up to 1 in 50.
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
  const { rows, firstRow, heading } = layout;
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
  if (isAbsolute(pressureHeading))
    return failure(
      problem(
        'pressure',
        `${pressureHeading} is absolute pressure, not vacuum.`,
        'Choose another column, or set the gauge to vacuum and log again.',
      ),
    );
  const pressureUnit = columns.pressureUnit ?? pressureUnitIn(pressureHeading);
  if (pressureUnit === null)
    return failure(
      problem(
        'pressureUnit',
        'The heading does not name the unit of pressure.',
        `Choose ${tracePressureUnits.join(', ')}.`,
      ),
    );
  const timeUnit = columns.timeUnit ?? timeUnitIn(timeHeading);

  const problems: Problem[] = [];
  const read: TraceSample[] = [];
  let missed = 0;
  const lastRow = rows.findLastIndex((row) => secondsIn(row[time] ?? '') !== null);
  if (lastRow < firstRow)
    return failure(
      problem('time', 'That column holds no time that can be read.', 'Choose another column.'),
    );
  rows.slice(0, lastRow + 1).forEach((row, index) => {
    if (index < firstRow || row.every((cell) => cell === '')) return;
    const cell = row[time] ?? '';
    const figure = secondsIn(cell);
    const vacuum = numberIn(row[pressure] ?? '');
    if (figure !== null && vacuum !== null) {
      const t = isClock(cell)
        ? sinceMidnightOf(read.at(-1)?.t, figure)
        : secondsOf(figure, timeUnit);
      read.push({ t, vacuum: kilopascalsOf(vacuum, pressureUnit) });
      return;
    }
    if (figure !== null) missed += 1;
    problems.push({
      field: figure === null ? 'time' : 'pressure',
      line: index + 1,
      value: (figure === null ? row[time] : row[pressure]) ?? '',
      message: `Line ${index + 1} has no ${figure === null ? 'time' : 'pressure'} that can be read.`,
      mend: 'Remove the line, or export the trace again.',
    });
  });
  const isWhole = problems.length === missed && missed <= mostMissed * read.length;
  if (!isWhole) return failure(problems.slice(0, mostProblems));
  const start = read[0]!.t;
  const isNegative = read.filter(({ vacuum }) => vacuum < 0).length > read.length / 2;
  const sign = isNegative ? -1 : 1;
  return success({
    samples: read.map(({ t, vacuum }) => ({
      t: t - start,
      vacuum: sign * vacuum,
    })),
    pressureUnit,
    timeHeading,
    pressureHeading,
    missed,
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

/** A clock that falls back by half a day and more has passed midnight. */
function sinceMidnightOf(before: number | undefined, time: number): number {
  const days = before === undefined ? 0 : Math.round((before - time) / daySeconds);
  return time + Math.max(0, days) * daySeconds;
}
