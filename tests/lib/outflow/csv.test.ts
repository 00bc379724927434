import { parse } from 'csv-parse/sync';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { csv, csvCell } from '@/lib/outflow/csv';

const reread = (text: string): string[][] => parse(text, { record_delimiter: '\r\n' });
const undo = (cell: string): string => (/^'[=+\-@\t\r]/.test(cell) ? cell.slice(1) : cell);

describe('comma-separated values', () => {
  it('keeps the examples of its text', () => {
    expect(csvCell('=1+1')).toBe("'=1+1");
    expect(csvCell(-0.5)).toBe('-0.5');
    expect(csv(['unit', 'note'], [['0417', 'clip, tugged']])).toBe(
      'unit,note\r\n0417,"clip, tugged"\r\n',
    );
  });

  it.each(['=', '+', '-', '@', '\t', '\r'])('defuses a text that begins with %j', (first) => {
    const [cell] = reread(csv([`${first}cmd`], []))[0] ?? [];
    expect(cell).toBe(`'${first}cmd`);
  });

  it('is read back by csv-parse, a library of others, whatever the text', () => {
    const cell = fc.oneof(
      fc.string({ unit: 'grapheme' }).filter((text) => undo(text) === text),
      fc.constantFrom('a,b', '"quoted"', 'two\r\nlines', ' edge ', '', '=1'),
    );
    const table = fc.array(fc.tuple(cell, cell, cell), { minLength: 1, maxLength: 20 });
    fc.assert(
      fc.property(table, (rows) => {
        const back = reread(csv(['a', 'b', 'c'], rows));
        expect(back.slice(1).map((row) => row.map(undo))).toEqual(rows);
      }),
    );
  });
});
