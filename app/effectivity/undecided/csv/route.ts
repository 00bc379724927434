import { requireSignIn } from '@/app/_session';
import { csvResponse } from '@/app/(safety-officer)/csv-response';
import { database } from '@/db/handle';
import { undecidedFacts } from '@/db/reads/undecided-facts';
import { requirePermission } from '@/lib/access';
import { csv } from '@/lib/outflow/csv';

const header = ['unit', 'shed', 'fact', 'who can get it', 'how', 'bulletins'];

export async function GET(): Promise<Response> {
  const person = await requireSignIn('/effectivity/undecided');
  requirePermission(person, 'export');
  const { db } = await database();
  const facts = await undecidedFacts(db, person);
  const rows = facts.map(({ unitId, shed, fact, whoCanGetIt, how, bulletins }) => [
    unitId,
    shed,
    fact,
    whoCanGetIt,
    how,
    bulletins.join('; '),
  ]);
  return csvResponse('undecided.csv', csv(header, rows));
}
