import { z } from 'zod';
import { lifeGroupings } from '@/lib/analysis/life';
import { parts } from '@/lib/analysis/reading';

/** The address of the learn view; whatever cannot be read takes its first value. */
const learnSearch = z.object({
  part: z.enum(parts).catch('pump'),
  by: z.enum(lifeGroupings).catch('revision'),
  ratio: z.coerce.number().gt(1).max(100).catch(5),
});

export type LearnSearch = z.infer<typeof learnSearch>;

export const learnSearchOf = (search: Record<string, string | string[] | undefined>): LearnSearch =>
  learnSearch.parse(search);
