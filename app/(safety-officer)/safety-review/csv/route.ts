import { requireSignIn } from '@/app/_session';
import { database } from '@/db/handle';
import { clockOfPerson } from '@/db/reads/clock-of-person';
import { safetyReview } from '@/db/reads/safety-review';
import { requirePermission } from '@/lib/access';
import { localDay } from '@/lib/calendar';
import { csv } from '@/lib/outflow/csv';
import { csvResponse } from '../../csv-response';
import { reviewColumns } from '../review-columns';

export async function GET(): Promise<Response> {
  const person = await requireSignIn('/safety-review');
  requirePermission(person, 'export');
  const { db } = await database();
  const asOf = localDay(new Date(), await clockOfPerson(db, person));
  const months = await safetyReview(db, person, { asOf, months: 60 });
  return csvResponse(
    'safety-review.csv',
    csv(
      ['month', ...reviewColumns.map(({ words }) => words.toLowerCase())],
      months.map((month) => [month.month, ...reviewColumns.map(({ name }) => month[name])]),
    ),
  );
}
