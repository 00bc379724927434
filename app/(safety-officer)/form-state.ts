import type { Problem } from '@/lib/result';

/** What a form says after it was sent. */
export interface FormState {
  readonly problems: readonly Problem[];
  readonly said: string | null;
}

export const wrong = (field: string, message: string, mend: string): FormState => ({
  problems: [{ field, message, mend }],
  said: null,
});
