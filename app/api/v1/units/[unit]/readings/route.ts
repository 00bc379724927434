import { callerOf } from '@/app/_caller';
import { problemResponse } from '@/app/_door';
import { csvOfReadings } from '@/app/units/[unit]/csv-of-readings';
import { database } from '@/db/handle';
import { unitOnSheet } from '@/db/reads/unit-on-sheet';
import { unitSheetReadings } from '@/db/reads/unit-sheet-readings';
import { AccessDenied, requirePermission } from '@/lib/access';

/** Every reading of a unit as a file, with the first value beside each amended one. */
export async function GET(
  request: Request,
  { params }: RouteContext<'/api/v1/units/[unit]/readings'>,
): Promise<Response> {
  const person = await callerOf(request, 'readings:read');
  if (person instanceof Response) return person;
  const unitId = (await params).unit.toUpperCase();
  const { db } = await database();
  try {
    const sheet = await unitOnSheet(db, person, unitId);
    if (!sheet) return problemResponse(404, 'No unit has this number.');
    requirePermission(person, 'export', sheet.unit.shedId);
    const setAside = sheet.verdict?.assessment.setAside ?? [];
    const text = csvOfReadings(await unitSheetReadings(db, unitId), setAside, {
      pressure: person.pressureUnit,
      distance: person.distanceUnit,
    });
    return new Response(text, {
      headers: {
        'content-type': 'text/csv; charset=utf-8; header=present',
        'content-disposition': `attachment; filename="unit-${unitId}-readings.csv"`,
        'cache-control': 'private, no-store',
      },
    });
  } catch (error) {
    if (!(error instanceof AccessDenied)) throw error;
    return problemResponse(403, 'This unit is not open to you.');
  }
}
