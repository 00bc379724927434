import type { ImportRun } from '@/db/imports/keep-file';

export const stateWords: Readonly<Record<ImportRun['state'], string>> = {
  sending: 'Columns to be chosen',
  checking: 'Being checked',
  checked: 'Checked, nothing on record',
  done: 'On record',
  cancelled: 'Cancelled',
};
