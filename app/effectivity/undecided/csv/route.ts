import { requireSignIn } from '@/app/_session';
import { database } from '@/db/handle';
import { undecidedFacts } from '@/db/reads/undecided-facts';
import { requirePermission } from '@/lib/access';
import { csvRecord } from '@/lib/outflow/csv';

const header = ['unit', 'shed', 'fact', 'who can get it', 'how', 'bulletins'];
const unitsAStep = 2_000;

/** Streamed page by page, so that a list of any length leaves the server. */
export async function GET(request: Request): Promise<Response> {
  const person = await requireSignIn('/effectivity/undecided');
  requirePermission(person, 'export');
  const shedId = new URL(request.url).searchParams.get('shed') || undefined;
  const { db } = await database();
  let after: string | undefined;
  const body = new ReadableStream<Uint8Array>({
    start(file) {
      file.enqueue(new TextEncoder().encode(csvRecord(header)));
    },
    async pull(file) {
      const { facts, last } = await undecidedFacts(db, person, {
        ...{ shedId, after },
        limit: unitsAStep,
      });
      const records = facts.map(({ unitId, shed, fact, whoCanGetIt, how, bulletins }) =>
        csvRecord([unitId, shed, fact, whoCanGetIt, how, bulletins.join('; ')]),
      );
      if (records.length > 0) file.enqueue(new TextEncoder().encode(records.join('')));
      if (last === null) file.close();
      else after = last;
    },
  });
  return new Response(body, {
    headers: {
      'content-type': 'text/csv; charset=utf-8',
      'content-disposition': 'attachment; filename="undecided.csv"',
      'cache-control': 'no-store',
    },
  });
}
