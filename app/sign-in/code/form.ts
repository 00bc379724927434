import { z } from 'zod';
import type { Problem } from '@/lib/result';

export const codeText = z.string().trim().min(1, 'The code is missing.').max(64);

/** Each issue on the field of the form that it belongs to. */
export const problemsOf = ({ issues }: z.ZodError): Problem[] =>
  issues.map(({ path, message }) => ({
    field: String(path[0] ?? 'code'),
    message,
    mend: 'Key it again.',
  }));
