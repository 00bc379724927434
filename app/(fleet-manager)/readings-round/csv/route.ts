import { requireSignIn } from '@/app/_session';
import { csvResponse } from '@/app/(safety-officer)/csv-response';
import { requirePermission } from '@/lib/access';
import { isoFromDay, isoWeekOf } from '@/lib/calendar';
import { csv } from '@/lib/outflow/csv';
import { roundOf } from '../round-of';

export async function GET(): Promise<Response> {
  const person = await requireSignIn('/readings-round');
  requirePermission(person, 'export');
  const { entries } = await roundOf(person, null);
  return csvResponse(
    'readings-round.csv',
    csv(
      ['shed', 'week', 'unit', 'mark', 'last read', 'due', 'overdue', 'early', 'risk'],
      entries.map(({ of, monday, unit, dueOn, isOverdue, isEarly }) => [
        of.shedName,
        isoWeekOf(monday),
        unit,
        of.mark,
        of.lastReadOn,
        dueOn === null ? null : isoFromDay(dueOn),
        isOverdue ? 'yes' : 'no',
        isEarly ? 'yes' : 'no',
        of.risk === null ? null : Number(of.risk.toFixed(4)),
      ]),
    ),
  );
}
