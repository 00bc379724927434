import type { KeptReading, Refusal } from './kept-reading';
import { isRecorded, isRefusal, type Recorded, refusals } from './server-answer';

/** Whatever is not plainly the server's own answer counts as no answer: the reading goes on waiting. */
export async function sendReading(
  reading: KeptReading,
): Promise<KeptReading | 'no signal' | 'sign in again'> {
  const response = await fetch('/api/v1/readings', {
    method: 'POST',
    headers: { 'content-type': 'application/json', 'x-device-time': new Date().toISOString() },
    body: JSON.stringify(reading.payload),
    redirect: 'error',
    signal: AbortSignal.timeout(20_000),
  }).catch(() => null);
  const body = (await response?.json().catch(() => null)) as Partial<Recorded & Refusal> | null;
  if (!response || !body) return 'no signal';
  if (response.ok) {
    if (!isRecorded(body, reading.id)) return 'no signal';
    return {
      ...reading,
      state: 'on record',
      refusal: null,
      answer: {
        entry: body.entry,
        at: new Date().toISOString(),
        assessment: body.verdict.assessment,
      },
    };
  }
  if (!isRefusal(body)) return 'no signal';
  if (response.status === 401) return 'sign in again';
  if (!refusals.has(response.status)) return 'no signal';
  const { status, title, problems, questions = [] } = body;
  return { ...reading, state: 'refused', refusal: { status, title, problems, questions } };
}
