import { after } from 'next/server';
import { database } from '@/db/handle';
import { log } from '@/db/log';
import { sweepFleet } from '@/db/record/sweep';

/**
 * Judges the units that a write has left to the sweep, once its answer is sent. They are on record as
 * due, so that a sweep that fails is made up for by the next one.
 */
export function sweepAfterwards(what: string): void {
  after(async () => {
    try {
      await sweepFleet((await database()).db, new Date(), { learns: false, waits: true });
    } catch (err) {
      log.error({ err }, `the sweep after ${what} failed`);
    }
  });
}
