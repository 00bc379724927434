import { requireSignIn } from '@/app/_session';
import { csvResponse } from '@/app/(safety-officer)/csv-response';
import { database } from '@/db/handle';
import { effectivity, unitsUnderBulletin } from '@/db/reads/effectivity';
import { requirePermission } from '@/lib/access';
import { csv } from '@/lib/outflow/csv';

const header = [
  'bulletin',
  'issue',
  'build range',
  'unit',
  'by the record',
  'status',
  'since',
  'why',
  'missing fact',
  'who can get it',
  'work order',
  'revision fitted',
];

/** Every unit under every bulletin, or under the bulletin, build range and status of the address. */
export async function GET(request: Request): Promise<Response> {
  const person = await requireSignIn('/effectivity');
  requirePermission(person, 'export');
  const asked = new URL(request.url).searchParams;
  const { db } = await database();
  const { bulletins, unitIds, rows: ranges } = await effectivity(db, person, new Date());
  const rangeOf = new Map(
    ranges.flatMap(({ name, units }) => units.map((index) => [unitIds[index], name] as const)),
  );
  const is = (name: string, value: string) => !asked.get(name) || asked.get(name) === value;
  const rows = [];
  for (const { id, number, issue } of bulletins) {
    if (!is('bulletin', id)) continue;
    for (const pair of await unitsUnderBulletin(db, person, id)) {
      const range = rangeOf.get(pair.unitId) ?? '';
      if (!is('range', range) || !is('status', pair.status)) continue;
      rows.push([
        number,
        issue,
        range,
        pair.unitId,
        pair.applicability,
        pair.status,
        pair.statusAt.toISOString().slice(0, 10),
        pair.why,
        pair.missing.map(({ fact }) => fact).join('; '),
        pair.missing.map(({ whoCanGetIt }) => whoCanGetIt).join('; '),
        pair.order,
        pair.fittedRevision,
      ]);
    }
  }
  return csvResponse('effectivity.csv', csv(header, rows));
}
