import { setTimeout as pause } from 'node:timers/promises';
import { eq, max } from 'drizzle-orm';
import type { Tx } from '../client';
import { importReading } from '../schema';

/** A check whose rows go on record while it goes on. */
export interface CheckUnderWay {
  /** Whatever it rejects with undoes what was put. */
  readonly checked: Promise<unknown>;
  /** Line up to which all rows are staged. */
  readonly stagedTo: () => number;
}

const whole: CheckUnderWay = { checked: Promise.resolve(), stagedTo: () => 0 };

/** Every look reads all rows that are staged: they are ever fewer to so many rows. */
const fewestAfter = (line: number) => Math.max(50_000, line / 8);

/** A transaction that asks nothing for a minute is ended by the server. */
const lookAgainAfterMs = 500;

/**
 * Lines up to which staged readings may go on record, some at a time, so that it can be said how many
 * are, and called back between: the same line again while a check under way has staged few more.
 */
export async function* stagedLines(
  tx: Tx,
  importId: string,
  { checked, stagedTo }: CheckUnderWay = whole,
): AsyncGenerator<number> {
  const ended = checked.then(() => true);
  const later = () => pause(lookAgainAfterMs, false, { ref: false });
  let line = 0;
  while (!(await Promise.race([ended, later()]))) {
    const staged = stagedTo();
    if (staged - line >= fewestAfter(line)) line = staged;
    yield line;
  }
  const [last] = await tx
    .select({ line: max(importReading.line) })
    .from(importReading)
    .where(eq(importReading.importId, importId));
  const end = last?.line ?? 0;
  while (line < end) {
    line = Math.min(end, line + fewestAfter(line));
    yield Math.floor(line);
  }
}
