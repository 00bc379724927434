import { z } from 'zod';
import { problemResponse, readBytes } from '@/app/_door';
import { environment } from '@/app/_environment';
import { signedIn } from '@/app/_session';
import { database } from '@/db/handle';
import { linePhotoOf } from '@/db/reads/line-photo-of';
import { keepLinePhoto, type PhotoRefused } from '@/db/writes/keep-line-photo';
import { AccessDenied } from '@/lib/access';
import { mostPhotoBytes } from '@/lib/intake/line-photo';

type Context = RouteContext<'/api/v1/readings/[reading]/photo'>;

const statusOf: Record<PhotoRefused['kind'], number> = { unknown: 404, another: 409, unfit: 422 };

async function readingOf({ params }: Context): Promise<string | null> {
  const id = z.uuid().safeParse((await params).reading);
  return id.success ? id.data : null;
}

/** Keeps the picture of a reading on record. Sent any number of times it is kept once. */
export async function PUT(request: Request, context: Context): Promise<Response> {
  if (request.headers.get('origin') !== environment().origin) {
    return problemResponse(403, 'The request does not come from this site.');
  }
  const person = await signedIn();
  if (!person)
    return problemResponse(401, 'Sign in again. Nothing that this device keeps is lost.');
  if (request.headers.get('content-type') !== 'image/jpeg') {
    return problemResponse(415, 'The picture must be a JPEG.');
  }
  const readingId = await readingOf(context);
  if (!readingId) return problemResponse(404, 'No such reading is on record.');
  const content = await readBytes(request, mostPhotoBytes);
  if (!content) return problemResponse(413, `The picture is larger than ${mostPhotoBytes} bytes.`);
  try {
    const { db } = await database();
    const kept = await keepLinePhoto(db, { actor: person, readingId, content, now: new Date() });
    if (kept.ok) return Response.json({ readingId, ...kept.value });
    const { kind, problem } = kept.error;
    return problemResponse(statusOf[kind], 'The picture cannot be taken.', [problem]);
  } catch (error) {
    if (error instanceof AccessDenied) return problemResponse(403, `${error.message}.`);
    throw error;
  }
}

export async function GET(_request: Request, context: Context): Promise<Response> {
  const person = await signedIn();
  if (!person) return problemResponse(401, 'Sign in again.');
  const readingId = await readingOf(context);
  const content = readingId && (await linePhotoOf((await database()).db, person, readingId));
  if (!content) return problemResponse(404, 'No picture of that reading is open to you.');
  return new Response(Buffer.from(content), {
    headers: {
      'content-type': 'image/jpeg',
      'content-disposition': 'inline',
      'cache-control': 'private, no-store',
    },
  });
}
