import { requireSignIn } from '@/app/_session';
import { csvResponse } from '@/app/(safety-officer)/csv-response';
import { requirePermission } from '@/lib/access';
import { isoWeekOf } from '@/lib/calendar';
import { csv } from '@/lib/outflow/csv';
import { neededBy, partsReport } from '../parts-report';

export async function GET(): Promise<Response> {
  const person = await requireSignIn('/parts');
  requirePermission(person, 'export');
  const { weeks, parts } = await partsReport(person);
  return csvResponse(
    'parts-by-week.csv',
    csv(
      [
        'part',
        'revision',
        'week',
        'needed to date',
        'low 80%',
        'high 80%',
        'in stock',
        'lead time (days)',
        'order',
        'order by',
        'late',
      ],
      parts.flatMap((each) =>
        weeks.map(({ week, monday }) => {
          const { expected, low80, high80 } = neededBy(each, monday);
          return [
            each.part.partNumber,
            each.part.revision,
            week,
            Number(expected.toFixed(3)),
            low80,
            high80,
            each.inStock,
            each.part.leadTimeDays,
            each.toOrder,
            each.orderBy === null ? null : isoWeekOf(each.orderBy),
            each.isLate ? 'yes' : 'no',
          ];
        }),
      ),
    ),
  );
}
