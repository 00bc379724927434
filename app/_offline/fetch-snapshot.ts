import type { BaySnapshot } from '@/lib/bay-card/snapshot';

export type Fetched = BaySnapshot | 'no signal' | 'sign in again' | 'not yours';

/** The newest snapshot, or why there is none. A page in its place, as a captive portal gives, is none. */
export async function fetchSnapshot(): Promise<Fetched> {
  const response = await fetch('/api/v1/bay', {
    redirect: 'error',
    signal: AbortSignal.timeout(20_000),
  }).catch(() => null);
  if (response?.status === 401) return 'sign in again';
  if (response?.status === 403) return 'not yours';
  if (!response?.ok) return 'no signal';
  const body = (await response.json().catch(() => null)) as Partial<BaySnapshot> | null;
  return body?.version === 1 && Array.isArray(body.units) ? (body as BaySnapshot) : 'no signal';
}
