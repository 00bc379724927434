import { readFileSync } from 'node:fs';
import { expect } from 'vitest';

const read = (name: string): string =>
  readFileSync(new URL(`figures/${name}`, import.meta.url), 'utf8');

/** A file of figures; its shape is stated where it is used. */
export const figuresOf = <Shape>(name: string): Shape => JSON.parse(read(name)) as Shape;

/** Cases of a file that a reference package made; the file's header names function and version. */
export const referenceCases = <Case>(name: string): Case[] =>
  figuresOf<{ cases: Case[] }>(`oracle/${name}.json`).cases;

/** Rows of a CSV file with `#` lines of source and a header, by column. */
export function tableOf(name: string): Record<string, string>[] {
  const [header, ...rows] = read(name)
    .split(/\r?\n/)
    .filter((line) => line !== '' && !line.startsWith('#'))
    .map((line) => line.split(','));
  return rows.map((row) => Object.fromEntries(header!.map((column, i) => [column, row[i]!])));
}

/** Values of a series `t,value`. */
export const seriesOf = (name: string): { t: number[]; y: number[] } => {
  const rows = tableOf(`series_${name}.csv`);
  return { t: rows.map((row) => Number(row.t)), y: rows.map((row) => Number(row.value)) };
};

/** Within a share of the expected figure; zero within the share itself. */
export function expectWithin(
  actual: number | null | undefined,
  expected: number,
  share: number,
  what = '',
): void {
  const distance = Math.abs((actual ?? Number.NaN) - expected) / (Math.abs(expected) || 1);
  expect(distance, `${what}: ${actual} against ${expected}`).toBeLessThanOrEqual(share);
}
