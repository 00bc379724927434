import type { Problem } from '@/lib/result';

export interface PeopleFormState {
  readonly problems: readonly Problem[];
  readonly said: string | null;
  /** A code to hand over, shown this once. */
  readonly code: string | null;
}
