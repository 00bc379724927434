import 'server-only';
import { database } from '@/db/handle';
import type { SignedInPerson } from '@/db/reads/actor-of-person';
import { actorOfToken } from '@/db/reads/api-tokens';
import type { ApiScope } from '@/lib/api-scopes';
import { problemResponse } from './_problem-response';
import { signedIn } from './_session';

/** A token in the request counts alone: it never falls back to the cookie beside it. */
export function bearerOf(request: Request): string | null {
  const header = request.headers.get('authorization');
  return header?.startsWith('Bearer ') ? header : null;
}

/** Who calls a route: the person of its token within the scope, or else the person signed in. */
export async function callerOf(
  request: Request,
  scope: ApiScope,
): Promise<SignedInPerson | Response> {
  const header = bearerOf(request);
  if (header === null) {
    const person = await signedIn();
    return person ?? problemResponse(401, 'Sign in again. Nothing that this device keeps is lost.');
  }
  const token = /^Bearer (idm_[\w-]{43})$/.exec(header)?.[1];
  const { db } = await database();
  const found = token ? await actorOfToken(db, token, scope, new Date()) : 'unknown';
  if (found === 'unknown') return problemResponse(401, 'The token is not known, or is over.');
  if (found === 'out of scope') return problemResponse(403, `The token lacks the scope ${scope}.`);
  return found;
}
