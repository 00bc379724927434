import { parse } from 'csv-parse/sync';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { delimiters } from '@/lib/intake/import/csv-dialect';
import { RecordSplitter } from '@/lib/intake/import/split-records';

const split = (text: string, delimiter: (typeof delimiters)[number] = ',') =>
  new RecordSplitter(delimiter).end(text);

const brokenAt = (line: number) => ({ line, broken: expect.objectContaining({ line }) });

describe('RecordSplitter', () => {
  it('reads the example of its docstring', () => {
    expect(new RecordSplitter(';').end('a;"b;c"')).toEqual([{ line: 1, cells: ['a', 'b;c'] }]);
  });

  it('reads what RFC 4180 allows as csv-parse does, a library of others, however the text is cut', () => {
    const cell = fc.oneof(
      fc.string({ unit: fc.constantFrom('a', '7', ' ', '.', 'é') }),
      fc.string({ unit: fc.constantFrom('a', '"', ',', ';', '\t', '\n', '\r\n') }),
    );
    const cases = fc.record({
      rows: fc.array(fc.array(cell, { minLength: 2, maxLength: 4 }), { minLength: 1 }),
      delimiter: fc.constantFrom(...delimiters),
      lineBreak: fc.constantFrom('\n', '\r\n'),
      isEnded: fc.boolean(),
      cuts: fc.array(fc.nat(200)),
    });
    fc.assert(
      fc.property(cases, ({ rows, delimiter, lineBreak, isEnded, cuts }) => {
        const written = (text: string) =>
          /["\n\r,;\t]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
        const lines = rows.map((cells) => cells.map(written).join(delimiter));
        const text = lines.join(lineBreak) + (isEnded ? lineBreak : '');
        const reference = parse(text, {
          delimiter,
          record_delimiter: lineBreak,
          relax_column_count: true,
          skip_empty_lines: true,
        });
        const splitter = new RecordSplitter(delimiter);
        const records = [];
        let from = 0;
        for (const cut of [...cuts].sort((a, b) => a - b)) {
          records.push(...splitter.push(text.slice(from, Math.max(from, cut))));
          from = Math.max(from, cut);
        }
        records.push(...splitter.end(text.slice(from)));
        expect(records.map((record) => 'cells' in record && record.cells)).toEqual(reference);
      }),
      { numRuns: 2_000 },
    );
  });

  it('counts lines as an editor does, line breaks within cells among them', () => {
    expect(split('a,b\r\n\r\n"x\r\ny",1\r\nz,2')).toEqual([
      { line: 1, cells: ['a', 'b'] },
      { line: 3, cells: ['x\r\ny', '1'] },
      { line: 5, cells: ['z', '2'] },
    ]);
  });

  it('reads lines that end in CR where the first one does', () => {
    expect(split('a,b\r1,"2\r3"\r4,5\r')).toEqual([
      { line: 1, cells: ['a', 'b'] },
      { line: 2, cells: ['1', '2\r3'] },
      { line: 4, cells: ['4', '5'] },
    ]);
    const splitter = new RecordSplitter(',');
    expect(splitter.push('a,b\r')).toEqual([]);
    expect(splitter.push('\n1,2\r\n')).toHaveLength(2);
  });

  it('takes a broken record for one line, and goes on behind it', () => {
    expect(split('a,b\n5" hose,1\nx,2\n')).toEqual([
      { line: 1, cells: ['a', 'b'] },
      brokenAt(2),
      { line: 3, cells: ['x', '2'] },
    ]);
    expect(split('a\n"x"y\n"z"\n')).toEqual([
      { line: 1, cells: ['a'] },
      brokenAt(2),
      { line: 3, cells: ['z'] },
    ]);
    expect(split('a\n"never closed\nx\n')).toEqual([
      { line: 1, cells: ['a'] },
      brokenAt(2),
      { line: 3, cells: ['x'] },
    ]);
  });

  it('does not wait for ever for a quote to close, nor take an endless line', () => {
    const splitter = new RecordSplitter(',');
    expect(splitter.push(`a\n"${'x\n'.repeat(60_000)}`).slice(0, 2)).toEqual([
      { line: 1, cells: ['a'] },
      brokenAt(2),
    ]);
    expect(split(`a\n${'x'.repeat(100_001)}\nb`)).toEqual([
      { line: 1, cells: ['a'] },
      brokenAt(2),
      { line: 3, cells: ['b'] },
    ]);
  });

  it('finds no records in no text', () => {
    expect(split('')).toEqual([]);
    expect(split('\n\n')).toEqual([]);
  });
});
