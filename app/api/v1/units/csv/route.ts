import { callerOf } from '@/app/_caller';
import { problemResponse } from '@/app/_door';
import { csvOfYard } from '@/app/(fleet-manager)/yard/csv-of-yard';
import { may } from '@/lib/access';
import { readYardQuery } from '@/lib/intake/yard-query';

/** The yard's list as a file: exactly what the same address shows, in the same order. */
export async function GET(request: Request): Promise<Response> {
  const person = await callerOf(request, 'units:read');
  if (person instanceof Response) return person;
  if (!may(person, 'see units') || !may(person, 'export')) {
    return problemResponse(403, 'Your role does not export units.');
  }
  const query = readYardQuery(new URL(request.url).searchParams);
  return new Response(csvOfYard(person, query).pipeThrough(new TextEncoderStream()), {
    headers: {
      'content-type': 'text/csv; charset=utf-8; header=present',
      'content-disposition': 'attachment; filename="yard.csv"',
      'cache-control': 'private, no-store',
    },
  });
}
