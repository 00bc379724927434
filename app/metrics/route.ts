import { hash, timingSafeEqual } from 'node:crypto';
import { environment } from '@/app/_environment';
import { metrics, metricsText } from '@/app/_metrics';
import { problemResponse } from '@/app/_problem-response';
import { fromHereHeader } from '@/app/_watch-requests';
import { database } from '@/db/handle';

export const dynamic = 'force-dynamic';

/** Digests are compared, so that the time it takes tells nothing of the token. */
function isToken(sent: string | null, token: string | undefined): boolean {
  if (token === undefined || !sent?.startsWith('Bearer ')) return false;
  const digest = (text: string) => hash('sha256', text, 'buffer');
  return timingSafeEqual(digest(sent.slice('Bearer '.length)), digest(token));
}

/** For a collector on this machine, or one that bears the token of the environment. */
export async function GET({ headers }: Request): Promise<Response> {
  const isAllowed =
    headers.get(fromHereHeader) === '1' ||
    isToken(headers.get('authorization'), environment().metricsToken);
  if (!isAllowed) return problemResponse(403, 'Metrics are for a collector with the token.');
  const { connections } = await database();
  return new Response(await metricsText(connections), {
    headers: { 'content-type': metrics().registry.contentType, 'cache-control': 'no-store' },
  });
}
