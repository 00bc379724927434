import type { Refusal } from './kept-reading';
import { isRefusal, type Recorded, refusals } from './server-answer';

/** A picture that the server will never take is let go: the reading does not hang on it. */
export async function sendPhoto(
  readingId: string,
  photo: Blob,
): Promise<'sent' | 'no signal' | 'sign in again'> {
  const response = await fetch(`/api/v1/readings/${readingId}/photo`, {
    method: 'PUT',
    headers: { 'content-type': 'image/jpeg' },
    body: photo,
    redirect: 'error',
    signal: AbortSignal.timeout(60_000),
  }).catch(() => null);
  const body = (await response?.json().catch(() => null)) as Partial<Refusal & Recorded> | null;
  if (response?.status === 401) return 'sign in again';
  if (response?.ok && body?.readingId === readingId) return 'sent';
  return response && body && isRefusal(body) && refusals.has(response.status)
    ? 'sent'
    : 'no signal';
}
