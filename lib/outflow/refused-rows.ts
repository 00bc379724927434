import { csv } from '@/lib/outflow/csv';
import type { Problem } from '@/lib/result';

/** What was wrong with a file, one problem a row, as a CSV file to mend it by. */
export const refusedRows = (problems: readonly Problem[]): string =>
  csv(
    ['line', 'column', 'value', 'what is wrong', 'mend'],
    problems.map(({ line, field, value, message, mend }) => [
      line ?? null,
      field,
      value ?? null,
      message,
      mend,
    ]),
  );
