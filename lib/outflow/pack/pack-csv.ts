import { csvRecord } from '../csv';
import type { Pack } from './auditors-pack';

/**
 * The pack as comma-separated values, one record a cell, so that every table fits one header: its
 * name, the row counted from 1, the column's title, the value. Texts stand under their heading with
 * row 0. Source: RFC 4180; the long form is an own choice. Thin data: a table without rows has none.
 *
 * @example packCsv({ title: 't', blocks: [{ is: 'heading', text: 'Work' }, { is: 'text', text: 'x' }] })
 * is 'table,row,column,value\r\nWork,0,text,x\r\n'
 */
export function packCsv({ blocks }: Pack): string {
  const records = [csvRecord(['table', 'row', 'column', 'value'])];
  let heading = '';
  for (const block of blocks) {
    if (block.is === 'heading') heading = block.text;
    else if (block.is === 'table') {
      block.rows.forEach((row, index) => {
        block.columns.forEach(({ title }, column) => {
          records.push(csvRecord([block.name, index + 1, title, row[column] ?? '']));
        });
      });
    } else records.push(csvRecord([heading, 0, 'text', block.text]));
  }
  return records.join('');
}
