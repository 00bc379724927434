import type { Seconds } from '@/lib/measure';

/** How a logging gauge lays its file out, with the columns that its heading suggests, from nought. */
export interface TraceLayout {
  readonly rows: readonly (readonly string[])[];
  /** Index of the first row of figures. */
  readonly firstRow: number;
  readonly heading: readonly string[];
  readonly separator: string;
  readonly time: number;
  readonly pressure: number;
}

/** Blanks come last: they stand between the words of any other file too. */
const separators = ['\t', ';', ',', '|', ' '] as const;
const timeNames = /^\s*["']?(t|time|elapsed|seconds?|sec|ms)\b|^t_/i;
const pressureNames = /vac|press|psi|inhg|kpa|in\.? ?hg/i;

/**
 * Finds the separator, the heading and the first row of figures of a gauge's file, whatever lines come
 * before them. Thin data: null where no line holds two figures.
 *
 * @example traceLayout('t_s;vacuum_psi\n0;13').heading is ['t_s', 'vacuum_psi']
 */
export function traceLayout(text: string): TraceLayout | null {
  const lines = text.replace(/^\uFEFF/, '').split(/\r\n|\r|\n/);
  const separator = separatorOf(lines);
  const rows = lines.map((line) =>
    (separator === ' ' ? line.trim().split(/ +/) : line.split(separator)).map((cell) =>
      cell.trim().replace(/^"(.*)"$/, '$1'),
    ),
  );
  const firstRow = rows.findIndex(
    (row) => row.filter((cell) => secondsIn(cell, separator) !== null).length >= 2,
  );
  if (firstRow === -1) return null;
  const heading = rows.slice(0, firstRow).findLast((row) => row.length >= 2) ?? [];
  const time = columnNamed(heading, timeNames) ?? 0;
  const pressure = columnNamed(heading, pressureNames) ?? (time === 1 ? 0 : 1);
  return { rows, firstRow, heading, separator, time, pressure };
}

/** The separator that most lines share, the rarest character in prose first. */
function separatorOf(lines: readonly string[]): string {
  const written = lines.filter((line) => line.trim() !== '');
  const counts = separators.map(
    (separator) => written.filter((line) => line.trim().includes(separator)).length,
  );
  return separators[counts.indexOf(Math.max(...counts))] ?? ',';
}

function columnNamed(heading: readonly string[], names: RegExp): number | null {
  const found = heading.findIndex((name) => names.test(name));
  return found === -1 ? null : found;
}

export function numberIn(cell: string, separator: string): number | null {
  const text = separator === ',' ? cell : cell.replace(',', '.');
  return /^[-+]?(\d+\.?\d*|\.\d+)(e[-+]?\d+)?$/i.test(text) ? Number(text) : null;
}

/** Seconds written as a figure or as a clock's hh:mm:ss. */
export function secondsIn(cell: string, separator: string): Seconds | null {
  const clock = /^(?:.*[ T])?(\d{1,2}):(\d{2}):(\d{2}(?:[.,]\d+)?)$/.exec(cell);
  if (!clock) return numberIn(cell, separator);
  return Number(clock[1]) * 3600 + Number(clock[2]) * 60 + Number(clock[3]!.replace(',', '.'));
}
