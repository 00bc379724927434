import { requireSignIn } from '@/app/_session';
import { database } from '@/db/handle';
import { openSpells } from '@/db/reads/open-spells';
import { spellsEndedSince } from '@/db/reads/spells-ended-since';
import { requirePermission } from '@/lib/access';
import { csv } from '@/lib/outflow/csv';
import { csvResponse } from '../../csv-response';
import { named } from '../names';

const header = [
  'unit',
  'shed',
  'opened at',
  'cause',
  'why',
  'opened by',
  'tag hung at',
  'certificate',
  'certified by',
  'certified at',
  'released by',
  'released at',
  'still blocks return',
  'ledger entry of release',
];

/** Every open spell, then those that ended in the last year. */
export async function GET(): Promise<Response> {
  const person = await requireSignIn('/stand-down');
  requirePermission(person, 'export');
  const { db } = await database();
  const open = await openSpells(db, person);
  const ended = await spellsEndedSince(db, person, new Date(Date.now() - 365 * 86_400_000));
  const iso = (instant: Date | null) => instant?.toISOString() ?? null;
  return csvResponse(
    'stand-down.csv',
    csv(header, [
      ...open.map(({ row, shed, blocks, people }) => [
        row.unitId,
        shed.name,
        iso(row.openedAt),
        row.cause,
        row.why,
        named(people, row.openedBy),
        iso(row.tagHungAt),
        row.certificate,
        row.certifiedBy && named(people, row.certifiedBy),
        iso(row.certifiedAt),
        null,
        null,
        blocks
          .filter(({ isDone }) => !isDone)
          .map(({ what }) => what)
          .join('; '),
        null,
      ]),
      ...ended.map((one) => [
        one.unitId,
        one.shedName,
        iso(one.openedAt),
        one.cause,
        one.why,
        one.openedBy,
        iso(one.tagHungAt),
        one.certificate,
        one.certifiedBy,
        iso(one.certifiedAt),
        one.releasedBy,
        iso(one.releasedAt),
        null,
        one.entry,
      ]),
    ]),
  );
}
