import { describe, expect, it } from 'vitest';
import { bulletinsOfTable, bulletinTable } from '@/app/effectivity/import/bulletin-file';
import { guessBulletinColumns, leftOut } from '@/lib/intake/bulletin-columns';

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

/** Read as the names of the columns say, unless told otherwise. */
function bulletinFile(bytes: Uint8Array, said?: (held: readonly string[]) => readonly string[]) {
  const table = bulletinTable(bytes);
  if (!table.ok) return table;
  const held = guessBulletinColumns(table.value.header);
  return bulletinsOfTable(table.value, said?.(held) ?? held);
}

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

  it('is read by what people say of its columns, and leaves none out unsaid', () => {
    const other = header
      .replace('make', 'Brand')
      .replace('issued_on', 'Issued On')
      .concat(',Remark');
    const text = [other, [...cells, 'seen'].join(','), ''].join('\n');
    const unsaid = bulletinFile(Buffer.from(text));
    expect(unsaid).toMatchObject({ error: [{ value: 'Brand' }, { value: 'Remark' }] });
    const said = bulletinFile(Buffer.from(text), (held) => held.with(9, 'make').with(10, leftOut));
    expect(said).toMatchObject({
      ok: true,
      value: [{ issuedOn: '2026-01-15', rule: { anyOf: [{ make: ['Corvane'] }] } }],
    });
    const twice = bulletinFile(Buffer.from(text), (held) => held.with(9, 'make').with(10, 'make'));
    expect(twice).toMatchObject({ error: [{ message: 'The column make stands twice.' }] });
  });
});
