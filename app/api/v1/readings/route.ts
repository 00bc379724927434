import { admit, problemResponse } from '@/app/_door';
import { database } from '@/db/handle';
import { recordReading } from '@/db/writes/record-reading';
import { AccessDenied } from '@/lib/access';
import { parseReadingPayload } from '@/lib/intake/reading-payload';

/** Records one reading. Sent any number of times it is recorded once: 201 the first time, 200 after. */
export async function POST(request: Request): Promise<Response> {
  const admitted = await admit(request);
  if ('refusal' in admitted) return admitted.refusal;
  const payload = parseReadingPayload(admitted.body);
  if (!payload.ok)
    return problemResponse(422, 'The reading cannot be taken as it is.', payload.error);
  const { db } = await database();
  try {
    const recorded = await recordReading(db, {
      actor: admitted.person,
      payload: payload.value,
      now: new Date(),
    });
    if (recorded.ok) {
      const { readingId, entry, verdict, wasOnRecord } = recorded.value;
      return Response.json({ readingId, entry, verdict }, { status: wasOnRecord ? 200 : 201 });
    }
    switch (recorded.error.kind) {
      case 'unknown unit':
        return problemResponse(404, 'No such unit is on record.');
      case 'another payload':
        return problemResponse(409, 'Another reading is on record under this id.');
      case 'problems':
        return problemResponse(
          422,
          'The reading cannot be taken as it is.',
          recorded.error.problems,
        );
    }
  } catch (error) {
    if (error instanceof AccessDenied) return problemResponse(403, `${error.message}.`);
    throw error;
  }
}
