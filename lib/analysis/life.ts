import type { Fitment } from '@/lib/analysis/reading';
import type { Kilometres } from '@/lib/measure';

export interface PartHistory {
  readonly fitment: Fitment;
  readonly engine: string | null;
  readonly shed: string | null;
  /** Newest sound odometer of the unit, for a part that is still on it. */
  readonly odometerNow: Kilometres | null;
}
