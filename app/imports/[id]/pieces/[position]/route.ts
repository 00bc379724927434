import { z } from 'zod';
import { isFromThisSite, problemResponse, readBytes } from '@/app/_door';
import { signedIn } from '@/app/_session';
import { database } from '@/db/handle';
import { keepPiece } from '@/db/imports/keep-file';
import { may } from '@/lib/access';

const place = z.object({ id: z.uuid(), position: z.coerce.number().int().min(0).max(99) });
const mostBytes = 1 << 20;

/** One piece of a file that is being sent; sent again it takes the place of the first. */
export async function PUT(
  request: Request,
  { params }: RouteContext<'/imports/[id]/pieces/[position]'>,
): Promise<Response> {
  if (!isFromThisSite(request)) {
    return problemResponse(403, 'The request does not come from this site.');
  }
  const person = await signedIn();
  if (!person) return problemResponse(401, 'Sign in again.');
  if (!may(person, 'import')) return problemResponse(403, 'Your role does not import.');
  const at = place.safeParse(await params);
  if (!at.success) return problemResponse(404, 'There is no such import.');
  const bytes = await readBytes(request, mostBytes);
  if (bytes === null) return problemResponse(413, `The piece is larger than ${mostBytes} bytes.`);
  const { db } = await database();
  const { id: importId, position } = at.data;
  const isKept = await keepPiece(db, person, { importId, position, bytes });
  return isKept
    ? new Response(null, { status: 204 })
    : problemResponse(409, 'The import takes no more of the file.');
}
