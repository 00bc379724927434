import { problemResponse } from '@/app/_door';
import { signedIn } from '@/app/_session';
import { database } from '@/db/handle';
import { baySnapshot } from '@/db/reads/bay-snapshot';
import { may } from '@/lib/access';

/** What the bay card keeps on the device of the signed-in person. */
export async function GET(): Promise<Response> {
  const person = await signedIn();
  if (!person)
    return problemResponse(401, 'Sign in again. Nothing that this device keeps is lost.');
  if (!may(person, 'record a reading')) {
    return problemResponse(403, 'Your role does not record readings.');
  }
  const { db } = await database();
  return Response.json(await baySnapshot(db, person, new Date()), {
    headers: { 'cache-control': 'private, no-store' },
  });
}
