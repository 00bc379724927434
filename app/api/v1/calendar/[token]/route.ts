import { problemResponse } from '@/app/_door';
import { environment } from '@/app/_environment';
import { database } from '@/db/handle';
import { calendarVisits } from '@/db/reads/calendar-visits';
import { visitsCalendar } from '@/lib/outflow/calendar';

/** The placed work as an iCalendar file, for a calendar program that signs nobody in. */
export async function GET(
  _: Request,
  { params }: RouteContext<'/api/v1/calendar/[token]'>,
): Promise<Response> {
  const token = /^([\w-]{43})\.ics$/.exec((await params).token)?.[1];
  const visits = token ? await calendarVisits((await database()).db, token) : null;
  if (!visits) return problemResponse(404, 'There is no such calendar.');
  const domain = new URL(environment().origin).hostname;
  return new Response(visitsCalendar({ name: 'Bay plan', domain, asOf: new Date() }, visits), {
    headers: {
      'content-type': 'text/calendar; charset=utf-8',
      'content-disposition': 'inline; filename="bay-plan.ics"',
      'cache-control': 'private, no-store',
    },
  });
}
