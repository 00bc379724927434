import type { UnitAssessment } from '@/lib/analysis/unit-assessment';
import { readOutbox, replaceKept } from './bay-store';
import type { KeptReading, Refusal } from './kept-reading';

export type Drained = 'nothing left' | 'no signal' | 'sign in again';

/** Statuses by which the server says that this payload will never do. */
const refusals = new Set([400, 403, 404, 409, 413, 422]);

interface Recorded {
  readonly readingId: string;
  readonly entry: number;
  readonly verdict: { readonly assessment: UnitAssessment };
}

/** Only the server knows the id it was sent: a page in its place, as a captive portal gives, does not. */
const isRecorded = (body: Partial<Recorded>, id: string): body is Recorded =>
  body.readingId === id && typeof body.entry === 'number' && body.verdict?.assessment !== undefined;

const isRefusal = (body: Partial<Refusal>): body is Refusal =>
  typeof body.title === 'string' && Array.isArray(body.problems);

/** Sends what waits, oldest first. One tab at a time: the others find the lock taken and leave it. */
export function drainOutbox(): Promise<Drained> {
  return navigator.locks.request('idlemark outbox', { ifAvailable: true }, async (lock) =>
    lock ? sendAll() : 'nothing left',
  );
}

async function sendAll(): Promise<Drained> {
  for (const reading of await readOutbox()) {
    if (reading.state !== 'waiting') continue;
    const answer = await send(reading);
    if (answer === 'no signal' || answer === 'sign in again') return answer;
    await replaceKept(answer);
  }
  return 'nothing left';
}

/** Whatever is not plainly the server's own answer counts as no answer: the reading goes on waiting. */
async function send(reading: KeptReading): Promise<KeptReading | 'no signal' | 'sign in again'> {
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
