import { z } from 'zod';

/** Text that can be stored and shown as it is: no control, no lone surrogate, no reordering mark. */
export const plainLine = (most: number, missing: string) =>
  z
    .string({ error: missing })
    .trim()
    .min(1, missing)
    .max(most, `It is longer than ${most} characters.`)
    .refine(
      (text) => text.isWellFormed() && !/[\p{Cc}\u202A-\u202E\u2066-\u2069]/u.test(text),
      'It holds characters that cannot be shown.',
    );
