import { z } from 'zod';
import { unitNumber } from '@/lib/plain-text';

export const papers = ['Letter', 'A4'] as const;
export type Paper = (typeof papers)[number];

const day = z.iso.date('Choose a day.');

const request = z
  .object({
    unit: unitNumber.optional(),
    from: day.optional(),
    to: day.optional(),
    paper: z.enum(papers, 'Choose Letter or A4.').default('Letter'),
  })
  .refine(({ unit: one, from, to }) => one || (from && to), {
    path: ['unit'],
    message: 'Key a unit, or choose both days of a period.',
  })
  .refine(({ from, to }) => !from || !to || from <= to, {
    path: ['to'],
    message: 'The period ends before it begins.',
  });

export type PackRequest = z.infer<typeof request>;

/** What the address asks for; an empty field is a field left out. */
export const readPackRequest = (params: URLSearchParams) =>
  request.safeParse(Object.fromEntries([...params].filter(([, value]) => value.trim() !== '')));
