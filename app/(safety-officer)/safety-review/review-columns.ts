import type { ReviewMonth } from '@/lib/stand-down/review-months';

/** The figures of a month, in one order for table and file. */
export const reviewColumns: readonly {
  readonly name: Exclude<keyof ReviewMonth, 'month'>;
  readonly words: string;
}[] = [
  { name: 'opened', words: 'Spells opened' },
  { name: 'closed', words: 'Spells closed' },
  { name: 'byReading', words: 'Found by a reading' },
  { name: 'byDriver', words: 'Found on the road' },
  { name: 'byBulletin', words: 'By a bulletin' },
  { name: 'warned', words: 'Warned beforehand' },
  { name: 'repeated', words: 'Again within 180 days' },
  { name: 'daysOut', words: 'Days out, all units' },
  { name: 'overdue', words: 'Readings overdue at its end' },
];
