import { z } from 'zod';
import { admit, databaseRefusal, problemResponse } from '@/app/_door';
import { database } from '@/db/handle';
import { recordReading } from '@/db/writes/record-reading';
import { AccessDenied } from '@/lib/access';
import { parseReadingPayload } from '@/lib/intake/reading-payload';

/** The device's clock as it sends, apart from the payload: the payload stays the same when sent again. */
function deviceTime(request: Request): Date | null {
  const sent = z.iso.datetime().safeParse(request.headers.get('x-device-time'));
  return sent.success ? new Date(sent.data) : null;
}

/** Records one reading. Sent any number of times it is recorded once: 201 the first time, 200 after. */
export async function POST(request: Request): Promise<Response> {
  try {
    return await record(request);
  } catch (error) {
    if (error instanceof AccessDenied) return problemResponse(403, `${error.message}.`);
    return databaseRefusal(error);
  }
}

async function record(request: Request): Promise<Response> {
  const admitted = await admit(request, 'readings:write');
  if ('refusal' in admitted) return admitted.refusal;
  const payload = parseReadingPayload(admitted.body);
  if (!payload.ok)
    return problemResponse(422, 'The reading cannot be taken as it is.', payload.error);
  const { db } = await database();
  const recorded = await recordReading(db, {
    actor: admitted.person,
    payload: payload.value,
    now: new Date(),
    deviceNow: deviceTime(request),
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
    case 'questions': {
      const { questions } = recorded.error;
      const title = 'Some values are odd. Confirm them by their ids, or key them again.';
      return Response.json(
        { type: 'about:blank', status: 422, title, problems: [], questions },
        { status: 422, headers: { 'content-type': 'application/problem+json' } },
      );
    }
    case 'problems':
      return problemResponse(422, 'The reading cannot be taken as it is.', recorded.error.problems);
  }
}
