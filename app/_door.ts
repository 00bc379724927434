import 'server-only';
import { log } from '@/db/log';
import type { SignedInPerson } from '@/db/reads/actor-of-person';
import { isOutOfReach, sqlState } from '@/db/transaction';
import type { ApiScope } from '@/lib/api-scopes';
import { repeatedKey } from '@/lib/intake/repeated-key';
import { bearerOf, callerOf } from './_caller';
import { environment } from './_environment';
import { problemResponse } from './_problem-response';

export { problemResponse };

/** What a route says where the database cannot be asked: the same request may be sent again. */
export function databaseRefusal(error: unknown): Response {
  if (!isOutOfReach(error)) throw error;
  log.error({ code: sqlState(error) }, 'the database is out of reach');
  const refusal = problemResponse(
    503,
    'The database cannot be reached. Nothing was stored: send again.',
  );
  refusal.headers.set('retry-after', '5');
  return refusal;
}

/** A body read no further than `limit` bytes, whatever the length header says. */
export async function readBytes(request: Request, limit: number): Promise<Buffer | null> {
  const reader = request.body?.getReader();
  if (!reader) return Buffer.alloc(0);
  const chunks: Uint8Array[] = [];
  let size = 0;
  for (;;) {
    const { done, value } = await reader.read();
    if (done) break;
    size += value.byteLength;
    if (size > limit) {
      await reader.cancel();
      return null;
    }
    chunks.push(value);
  }
  return Buffer.concat(chunks);
}

/** A browser names the origin of what it sends; another site's name refuses it. */
export const isFromThisSite = (request: Request): boolean =>
  request.headers.get('origin') === environment().origin;

export type Admitted =
  | { readonly person: SignedInPerson; readonly body: unknown }
  | { readonly refusal: Response };

/** Who asks, from where, and a JSON body of bounded size: the same door for every route that writes. */
export async function admit(
  request: Request,
  scope: ApiScope,
  limit = 256 * 1024,
): Promise<Admitted> {
  const refusal = (status: number, title: string) => ({ refusal: problemResponse(status, title) });
  if (bearerOf(request) === null && !isFromThisSite(request)) {
    return refusal(403, 'The request does not come from this site.');
  }
  if (!/^application\/json\b/i.test(request.headers.get('content-type') ?? '')) {
    return refusal(415, 'The body must be application/json.');
  }
  const person = await callerOf(request, scope);
  if (person instanceof Response) return { refusal: person };
  try {
    const bytes = await readBytes(request, limit);
    if (bytes === null) return refusal(413, `The body is larger than ${limit} bytes.`);
    const text = new TextDecoder('utf-8', { fatal: true }).decode(bytes);
    const body: unknown = JSON.parse(text);
    const key = repeatedKey(text);
    if (key !== null) {
      return refusal(400, `The body holds the key ${JSON.stringify(key.slice(0, 60))} twice.`);
    }
    return { person, body };
  } catch (error) {
    if (error instanceof SyntaxError || error instanceof TypeError || error instanceof RangeError) {
      return refusal(400, 'The body is not JSON in UTF-8.');
    }
    throw error;
  }
}
