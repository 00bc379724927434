import 'server-only';
import type { SignedInPerson } from '@/db/reads/actor-of-person';
import { repeatedKey } from '@/lib/intake/repeated-key';
import type { Problem } from '@/lib/result';
import { environment } from './_environment';
import { signedIn } from './_session';

/** RFC 9457 problem details, with the fields to mend. */
export const problemResponse = (
  status: number,
  title: string,
  problems: readonly Problem[] = [],
): Response =>
  Response.json(
    { type: 'about:blank', status, title, problems },
    { status, headers: { 'content-type': 'application/problem+json' } },
  );

/** A body read no further than `limit` bytes, whatever the length header says. */
async function readBody(request: Request, limit: number): Promise<string | null> {
  const reader = request.body?.getReader();
  if (!reader) return '';
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
  return new TextDecoder('utf-8', { fatal: true }).decode(Buffer.concat(chunks));
}

export type Admitted =
  | { readonly person: SignedInPerson; readonly body: unknown }
  | { readonly refusal: Response };

/** Who asks, from where, and a JSON body of bounded size: the same door for every route that writes. */
export async function admit(request: Request, limit = 256 * 1024): Promise<Admitted> {
  const refusal = (status: number, title: string) => ({ refusal: problemResponse(status, title) });
  if (request.headers.get('origin') !== environment().origin) {
    return refusal(403, 'The request does not come from this site.');
  }
  if (!/^application\/json\b/i.test(request.headers.get('content-type') ?? '')) {
    return refusal(415, 'The body must be application/json.');
  }
  const person = await signedIn();
  if (!person) return refusal(401, 'Sign in again. Nothing that this device keeps is lost.');
  try {
    const text = await readBody(request, limit);
    if (text === null) return refusal(413, `The body is larger than ${limit} bytes.`);
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
