import type { Seconds } from '@/lib/measure';

/** How a logging gauge lays its file out, with the columns that its heading suggests, from nought. */
export interface TraceLayout {
  readonly rows: readonly (readonly string[])[];
  /** Index of the first row of figures. */
  readonly firstRow: number;
  readonly heading: readonly string[];
  readonly time: number;
  readonly pressure: number;
}

const separators = ['\t', ';', '|', ',', ' '] as const;
/** Enough lines to tell the separator by. */
const linesTold = 500;
const timeNames = /^\s*["']?(t|time|elapsed|seconds?|sec|ms)\b|^t_/i;
const pressureNames = /vac|press|psi|inhg|kpa|in\.? ?hg|bar\b|hpa|torr/i;

/**
 * Finds the separator, the heading and the first row of figures of a gauge's file, whatever lines come
 * before them. Thin data: null where no line holds two figures.
 *
 * @example traceLayout('t_s;vacuum_psi\n0;13').heading is ['t_s', 'vacuum_psi']
 */
export function traceLayout(text: string): TraceLayout | null {
  const lines = text.replace(/^\uFEFF/, '').split(/\r\n|\r|\n/);
  const separator = separatorOf(lines.slice(0, linesTold));
  const rows = lines.map((line) => cellsOf(line, separator));
  const firstRow = rows.findIndex((row) => figuresIn(row) >= 2);
  if (firstRow === -1) return null;
  const heading = rows.slice(0, firstRow).findLast((row) => row.length >= 2) ?? [];
  const time = columnNamed(heading, timeNames) ?? 0;
  const pressure = columnNamed(heading, pressureNames) ?? (time === 1 ? 0 : 1);
  return { rows, firstRow, heading, time, pressure };
}

const figuresIn = (row: readonly string[]): number =>
  row.filter((cell) => secondsIn(cell) !== null).length;

/** What parts the lines into the most figures and the least else; lines of prose count for none. */
function separatorOf(lines: readonly string[]): string {
  const scores = separators.map((separator) =>
    lines.reduce((sum, line) => {
      const cells = cellsOf(line, separator);
      const figures = figuresIn(cells);
      return figures < 2 ? sum : sum + figures / cells.length;
    }, 0),
  );
  return separators[scores.indexOf(Math.max(...scores))] ?? ',';
}

/** Between quotes a separator is part of its cell. */
function cellsOf(line: string, separator: string): string[] {
  if (separator === ' ') return line.trim().split(/ +/);
  if (!line.includes('"')) return line.split(separator).map((cell) => cell.trim());
  const cells = [''];
  let isQuoted = false;
  for (const character of line) {
    if (character === '"') isQuoted = !isQuoted;
    else if (character === separator && !isQuoted) cells.push('');
    else cells[cells.length - 1] += character;
  }
  return cells.map((cell) => cell.trim());
}

function columnNamed(heading: readonly string[], names: RegExp): number | null {
  const found = heading.findIndex((name) => names.test(name));
  return found === -1 ? null : found;
}

export function numberIn(cell: string): number | null {
  const text = cell.replace(',', '.');
  return /^[-+]?(\d+\.?\d*|\.\d+)(e[-+]?\d+)?$/i.test(text) ? Number(text) : null;
}

const clockTime =
  /^(?:.*[ T])?(?:(\d{1,2}):)?(\d{1,2}):(\d{2}(?:[.,]\d+)?) ?(?:([ap])\.?m\.?)?(?:Z|[+-]\d{2}:?\d{2})?$/i;

export const isClock = (cell: string): boolean => cell.includes(':');

/** A figure as it stands; seconds where a clock wrote it, as hh:mm:ss or mm:ss, after a day or not. */
export function secondsIn(cell: string): Seconds | null {
  const clock = clockTime.exec(cell);
  if (!clock) return numberIn(cell);
  const [, hours = '0', minutes, seconds = '', half] = clock;
  const hour = half ? (Number(hours) % 12) + (/p/i.test(half) ? 12 : 0) : Number(hours);
  return hour * 3600 + Number(minutes) * 60 + Number(seconds.replace(',', '.'));
}
