import { z } from 'zod';
import type { UnitAssessment } from '@/lib/analysis/unit-assessment';
import { readOutbox, replaceKept } from './bay-store';
import type { KeptReading, Refusal } from './kept-reading';

export type Drained = 'nothing left' | 'no signal' | 'sign in again';

/** Statuses by which the server says that this payload will never do. */
const refusals = new Set([400, 403, 404, 409, 413, 422]);

const recorded = z.object({
  readingId: z.string(),
  entry: z.number(),
  verdict: z.object({ assessment: z.custom<UnitAssessment>((value) => typeof value === 'object') }),
});

const problemDetails = z.object({
  status: z.number(),
  title: z.string(),
  problems: z.array(z.object({ field: z.string(), message: z.string(), mend: z.string() })),
  questions: z
    .array(
      z.object({
        id: z.string(),
        field: z.string(),
        message: z.string(),
        choices: z.array(z.string()),
      }),
    )
    .default([]),
});

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
  const body: unknown = await response?.json().catch(() => null);
  if (!response || body === null) return 'no signal';
  if (response.ok) {
    const told = recorded.safeParse(body);
    if (!told.success || told.data.readingId !== reading.id) return 'no signal';
    return {
      ...reading,
      state: 'on record',
      refusal: null,
      answer: {
        entry: told.data.entry,
        at: new Date().toISOString(),
        assessment: told.data.verdict.assessment,
      },
    };
  }
  const problem = problemDetails.safeParse(body);
  if (!problem.success) return 'no signal';
  if (response.status === 401) return 'sign in again';
  if (!refusals.has(response.status)) return 'no signal';
  return { ...reading, state: 'refused', refusal: problem.data satisfies Refusal };
}
