import type { Moment } from '@/lib/bay-card/watch';

export const momentNow = (): Moment => ({
  origin: performance.timeOrigin,
  monotonic: performance.now(),
  wall: Date.now(),
});
