import { z } from 'zod';
import { callerOf } from '@/app/_caller';
import { problemResponse } from '@/app/_door';
import { listYard } from '@/app/(fleet-manager)/yard/list-yard';
import { yardOrder } from '@/db/reads/yard-order';
import { may } from '@/lib/access';
import { readYardQuery } from '@/lib/intake/yard-query';

const place = z.object({
  page: z.coerce.number().int().min(0).max(10_000).default(0),
  row: z
    .string()
    .regex(/^[A-Z0-9-]{1,16}$/)
    .optional(),
  after: z
    .string()
    .max(300)
    .transform((text, context) => {
      try {
        return z
          .object({ page: z.number().int().min(0), end: z.array(z.string()).max(4) })
          .parse(JSON.parse(text));
      } catch {
        context.addIssue('is not the end of a page');
        return z.NEVER;
      }
    })
    .optional(),
});

/** One page of the yard's list, by the same filters as the yard's address. */
export async function GET(request: Request): Promise<Response> {
  const person = await callerOf(request, 'units:read');
  if (person instanceof Response) return person;
  if (!may(person, 'see units')) return problemResponse(403, 'Your role does not see units.');
  const address = new URL(request.url).searchParams;
  const asked = place.safeParse(Object.fromEntries(address));
  const query = readYardQuery(address);
  const order = yardOrder(query.sort, query.isDescending);
  if (!asked.success || (asked.data.after && !order.accepts(asked.data.after.end))) {
    return problemResponse(400, 'The place in the list is not understood. Open the yard again.');
  }
  return Response.json(await listYard(person, query, asked.data, new Date()), {
    headers: { 'cache-control': 'private, no-store' },
  });
}
