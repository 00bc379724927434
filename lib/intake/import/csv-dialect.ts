import { failure, type Problem, type Result, success } from '@/lib/result';

export const delimiters = [',', ';', '\t'] as const;
export type Delimiter = (typeof delimiters)[number];

/**
 * What divides the columns of a file, from its first line: the one of comma, semicolon and tab that
 * stands there outside quotes. Two of them together could be read in two ways and are asked back.
 * A first line without any names one column.
 *
 * @example csvDelimiter('unit;"idle, psi"').value is ';'
 */
export function csvDelimiter(firstLine: string): Result<Delimiter, Problem> {
  const bare = firstLine.replaceAll(/"(?:[^"]|"")*"/g, '');
  const present = delimiters.filter((one) => bare.includes(one));
  if (/^sep=/i.test(bare.trim())) {
    return failure({
      field: 'file',
      line: 1,
      message: 'The first line is a note for a spreadsheet, not the names of the columns.',
      mend: 'Remove the line that begins with sep=.',
    });
  }
  if (present.length > 1) {
    return failure({
      field: 'file',
      line: 1,
      value: firstLine.slice(0, 40),
      message: 'Commas, semicolons or tabs stand side by side in the first line.',
      mend: 'Put names of columns that hold one of them between double quotes.',
    });
  }
  return success(present[0] ?? ',');
}

/** Bytes that a spreadsheet's own format begins with. */
export const isPacked = (start: Uint8Array): boolean =>
  start[0] === 0x50 && start[1] === 0x4b && start[2] === 0x03;
