import type { Problem } from '@/lib/result';

/** RFC 9457 problem details, with the fields to mend. */
export const problemResponse = (
  status: number,
  title: string,
  problems: readonly Problem[] = [],
): Response =>
  Response.json(
    { type: 'about:blank', status, title, problems },
    { status, headers: { 'content-type': 'application/problem+json' } },
  );
