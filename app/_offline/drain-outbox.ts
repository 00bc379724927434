import { readOutbox, replaceKept } from './bay-store';
import type { KeptReading } from './kept-reading';
import { sendPhoto } from './send-photo';
import { sendReading } from './send-reading';

export type Drained = 'nothing left' | 'no signal' | 'sign in again';

/** Requests under way at once: a far server is not waited for reading by reading. */
const lanes = 4;

/** Sends what waits. One tab at a time: the others find the lock taken and leave it. */
export function drainOutbox(told: (answered: KeptReading) => void): Promise<Drained> {
  return navigator.locks.request('idlemark outbox', { ifAvailable: true }, async (lock) =>
    lock ? sendAll(told) : 'nothing left',
  );
}

async function sendAll(told: (answered: KeptReading) => void): Promise<Drained> {
  const stopped = await sendReadings(told);
  if (stopped) return stopped;
  for (const { photo, ...reading } of await readOutbox()) {
    if (!photo || reading.state !== 'on record') continue;
    const answer = await sendPhoto(reading.id, photo);
    if (answer !== 'sent') return answer;
    await replaceKept(reading);
  }
  return 'nothing left';
}

/** Those of one unit go one after the other, oldest first, as they were taken. */
async function sendReadings(
  told: (answered: KeptReading) => void,
): Promise<'no signal' | 'sign in again' | null> {
  const byUnit = new Map<string, KeptReading[]>();
  for (const reading of await readOutbox()) {
    if (reading.state !== 'waiting') continue;
    byUnit.set(reading.unitId, [...(byUnit.get(reading.unitId) ?? []), reading]);
  }
  const units = [...byUnit.values()];
  let stopped: 'no signal' | 'sign in again' | null = null;
  const lane = async () => {
    for (let unit = units.shift(); unit; unit = units.shift()) {
      for (const reading of unit) {
        if (stopped) return;
        const answer = await sendReading(reading);
        if (typeof answer === 'string') {
          stopped = answer;
          return;
        }
        await replaceKept(answer);
        told(answer);
      }
    }
  };
  await Promise.all(Array.from({ length: lanes }, lane));
  return stopped;
}
