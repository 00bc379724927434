import { requireSignIn } from '@/app/_session';
import { csvResponse } from '@/app/(safety-officer)/csv-response';
import { database } from '@/db/handle';
import { partHistories } from '@/db/reads/part-histories';
import { requirePermission } from '@/lib/access';
import { partLives } from '@/lib/analysis/life';
import { fromKilometres } from '@/lib/measure';
import { csv } from '@/lib/outflow/csv';
import { learnSearchOf } from '../learn-search';

/** Every step of every survival curve of a part. */
export async function GET(request: Request): Promise<Response> {
  const person = await requireSignIn('/learn');
  requirePermission(person, 'export');
  const { part, ratio } = learnSearchOf(Object.fromEntries(new URL(request.url).searchParams));
  const { db } = await database();
  const { groups } = partLives(part, await partHistories(db, person, part), ratio);
  const unit = person.distanceUnit;
  return csvResponse(
    `life-of-${part.replaceAll(' ', '-')}.csv`,
    csv(
      [
        'by',
        'group',
        `distance (${unit})`,
        'at risk',
        'failures',
        'censored',
        'survival',
        'lower 95%',
        'upper 95%',
      ],
      groups.flatMap(({ by, name, survival }) =>
        survival.map((row) => [
          by,
          name,
          Math.round(fromKilometres(row.time, unit)),
          row.atRisk,
          row.failures,
          row.censored,
          Number(row.survival.toFixed(6)),
          row.lower === null ? null : Number(row.lower.toFixed(6)),
          row.upper === null ? null : Number(row.upper.toFixed(6)),
        ]),
      ),
    ),
  );
}
