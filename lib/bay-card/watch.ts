import type { Seconds } from '@/lib/measure';

/**
 * A moment by both clocks of a device, milliseconds. `monotonic` counts from `origin`, the moment the
 * page was opened; `wall` is the calendar clock, which people and networks may set.
 */
export interface Moment {
  readonly origin: number;
  readonly monotonic: number;
  readonly wall: number;
}

export interface Watch {
  readonly times: 'recovery' | 'hold';
  readonly start: Moment;
  /** The screen was locked or another page shown since the start. */
  readonly wasHidden: boolean;
}

/** A monotonic clock may stand still while the device sleeps: that much behind the wall, it has slept. */
const sleptMs = 1000;

/**
 * Seconds since a watch was started. Within one opening of the page the monotonic clock counts; across
 * a reload, or a sleep through which it stood still, the wall clock does. Never below nought.
 *
 * @example started at 1,000 ms and asked at 7,800 ms of the same page: 6.8
 */
export function elapsedSeconds({ start, wasHidden }: Watch, now: Moment): Seconds {
  const wall = now.wall - start.wall;
  const monotonic = now.monotonic - start.monotonic;
  const isSamePage = now.origin === start.origin;
  const hasSlept = wasHidden && wall - monotonic > sleptMs;
  return Math.max(0, isSamePage && !hasSlept ? monotonic : wall) / 1000;
}

export const holdSeconds: Seconds = 60;

/** Whole seconds left of the hold; nought when it is over. */
export const holdLeft = (watch: Watch, now: Moment): Seconds =>
  Math.max(0, Math.ceil(holdSeconds - elapsedSeconds(watch, now)));
