import { bulletinColumns, furtherColumns, rangeColumns } from '@/lib/intake/bulletin-rows';
import { plainName } from '@/lib/intake/import/column-mapping';
import type { Problem } from '@/lib/result';

/** All that a column of a bulletin file may hold. */
export const bulletinFields: readonly string[] = [
  ...bulletinColumns,
  ...furtherColumns,
  ...Object.values(rangeColumns),
];
/** Said of a column that is not to be read. */
export const leftOut = '-';

/** What each column of a file holds, in its own order: a field, left out, or not said yet. */
export type ColumnsHeld = readonly string[];

/**
 * What the header alone says of its columns. One whose name is no field's is not said, never left out:
 * a condition that nobody reads would have a bulletin cover more units.
 *
 * @example guessBulletinColumns(['Number', 'Issued on', 'Remark']) is ['number', 'issued_on', '']
 */
export const guessBulletinColumns = (header: readonly string[]): ColumnsHeld =>
  header.map((cell) => {
    if (cell.trim() === '') return leftOut;
    return bulletinFields.find((field) => field === plainName(cell)) ?? '';
  });

/** Columns of which nobody has said what they hold. */
export const unsaidColumns = (header: readonly string[], held: ColumnsHeld): readonly Problem[] =>
  header.flatMap((cell, index) =>
    held[index] === leftOut || bulletinFields.includes(held[index] ?? '')
      ? []
      : {
          field: 'file',
          line: 1,
          value: cell.slice(0, 40),
          message: 'No column of a bulletin has this name.',
          mend: 'Say what it holds under Columns of the file, or give it the name of a column asked for.',
        },
  );
