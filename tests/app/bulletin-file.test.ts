import { describe, expect, it } from 'vitest';
import { bulletinFile } from '@/app/effectivity/import/bulletin-file';

const header = 'number,issue,title,issued_on,kind,conditions,actions,hours,source,make';
const cells = [
  'SB-14',
  '2',
  'Dichtung é',
  '2026-01-15',
  'recommended',
  'Oil.',
  'Fit C.',
  '1.2',
  'Maker',
  'Corvane',
];

const written = (delimiter: string, lineBreak: string, row: readonly string[] = cells) =>
  [header.replaceAll(',', delimiter), row.join(delimiter), ''].join(lineBreak);

describe('a file of bulletins, as spreadsheets write it', () => {
  it.each([
    ['a byte-order mark, semicolons and CRLF', `\ufeff${written(';', '\r\n')}`],
    ['tabs and CR', written('\t', '\r')],
    ['commas and LF', written(',', '\n')],
    ['every cell quoted', written('","', '"\r\n"').replace(/^/, '"').replace(/"$/, '')],
  ])('is read with %s', (_, text) => {
    const read = bulletinFile(Buffer.from(text));
    expect(read).toMatchObject({ ok: true, value: [{ title: 'Dichtung é', hours: 1.2 }] });
  });

  it('keeps line breaks within quotes, and counts lines past them', () => {
    const words = cells.with(5, '"Oil;\r\nmuch ""oil"""');
    const read = bulletinFile(Buffer.from(written(',', '\r\n', words)));
    expect(read).toMatchObject({ ok: true, value: [{ conditions: 'Oil;\r\nmuch "oil"' }] });
    const text = `${written(',', '\r\n', words)}${cells.with(1, '3').with(7, 'many').join(',')}`;
    expect(bulletinFile(Buffer.from(text))).toMatchObject({
      ok: false,
      error: [{ line: 4, field: 'hours' }],
    });
  });

  it.each([
    ['Latin-1', Buffer.from(written(',', '\n'), 'latin1'), 'It is not UTF-8.'],
    [
      'a decimal comma',
      Buffer.from(written(';', '\n', cells.with(7, '1,2'))),
      'The comma could mean two things.',
    ],
    [
      'two delimiters in its first line',
      Buffer.from(written(',', '\n').replace('make', 'a;b')),
      'side by side',
    ],
    [
      'quotes that do not close',
      Buffer.from(written(',', '\n', cells.with(5, '"Oil'))),
      'quotes do not close',
    ],
    [
      'a column of another name',
      Buffer.from(written(',', '\n').replace('make', 'maker')),
      'No column of a bulletin has this name.',
    ],
    ['UTF-16', Buffer.from(written(',', '\n'), 'utf16le'), 'no plain text'],
  ])('is refused with %s, and says why', (_, bytes, why) => {
    const read = bulletinFile(bytes);
    expect(read.ok ? '' : read.error.map(({ message }) => message).join(' ')).toContain(why);
  });
});
