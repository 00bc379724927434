import { z } from 'zod';
import { problemResponse } from '@/app/_door';
import { signedIn } from '@/app/_session';
import { database } from '@/db/handle';
import { rowsInQuestion } from '@/db/imports/rows-in-question';
import { may } from '@/lib/access';

const asked = z.object({ id: z.uuid(), which: z.enum(['refused.csv', 'odd.csv']) });

/** The rows that were refused, or that stand as written though they are odd, with reasons. */
export async function GET(
  _: Request,
  { params }: RouteContext<'/imports/[id]/[which]'>,
): Promise<Response> {
  const person = await signedIn();
  if (!person) return problemResponse(401, 'Sign in again.');
  if (!may(person, 'import')) return problemResponse(403, 'Your role does not import.');
  const at = asked.safeParse(await params);
  const { db } = await database();
  const which = at.data?.which === 'odd.csv' ? 'odd' : 'refused';
  const rows = at.success && (await rowsInQuestion(db, person, at.data.id, which));
  if (!rows) return problemResponse(404, 'There is no such import.');
  const encoder = new TextEncoder();
  const body = new ReadableStream<Uint8Array>({
    async pull(controller) {
      const next = await rows.next();
      if (next.done) controller.close();
      else controller.enqueue(encoder.encode(next.value));
    },
  });
  return new Response(body, {
    headers: {
      'content-type': 'text/csv; charset=utf-8; header=present',
      'content-disposition': `attachment; filename="${which}.csv"`,
      'cache-control': 'private, no-store',
    },
  });
}
