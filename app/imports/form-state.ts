import type { Problem } from '@/lib/result';

export interface ImportFormState {
  readonly problems: readonly Problem[];
  readonly said: string | null;
}

export const untouched: ImportFormState = { problems: [], said: null };
