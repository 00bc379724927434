import { z } from 'zod';
import { unitNumberPattern } from '@/lib/unit-number';

const reordering = /[\u202A-\u202E\u2066-\u2069]/;
const control = /\p{Cc}/u;
const unusable = 'It holds characters that cannot be shown.';

/** Whether text of one line can be stored and shown as it is: no control, no lone surrogate, no reordering mark. */
export const isPlainLine = (text: string): boolean =>
  text.isWellFormed() && !control.test(text) && !reordering.test(text);

/** The same for text of several lines, which tabs and line breaks may part. */
export const isPlainText = (text: string): boolean =>
  isPlainLine(text.replaceAll(/[\t\r\n]/g, ' '));

export const plainLine = (most: number, missing: string) =>
  z
    .string({ error: missing })
    .trim()
    .min(1, missing)
    .max(most, `It is longer than ${most} characters.`)
    .refine(isPlainLine, unusable);

/** Lines that may be left empty; `.min(1)` asks for some. */
export const plainText = (most: number) =>
  z
    .string()
    .trim()
    .max(most, `It is longer than ${most} characters.`)
    .refine(isPlainText, unusable);

/** A unit by its number, as keyed. */
export const unitNumber = z
  .string()
  .trim()
  .toUpperCase()
  .regex(unitNumberPattern, "Key the unit's number as on its tag.");
