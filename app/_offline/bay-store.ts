import { type DBSchema, type IDBPDatabase, openDB } from 'idb';
import type { Draft } from '@/lib/bay-card/draft';
import type { BaySnapshot } from '@/lib/bay-card/snapshot';
import type { KeptReading } from './kept-reading';

interface Notes {
  readonly snapshot: BaySnapshot;
  readonly draft: Draft;
  readonly gaugeId: string;
  /** Id of the reading whose call is on the screen. */
  readonly shown: string;
  /** Units read on this device, newest first. */
  readonly recent: readonly string[];
}

interface BaySchema extends DBSchema {
  notes: { key: keyof Notes; value: Notes[keyof Notes] };
  outbox: { key: string; value: KeptReading };
}

let opened: Promise<IDBPDatabase<BaySchema>> | undefined;

function store(): Promise<IDBPDatabase<BaySchema>> {
  opened ??= openDB<BaySchema>('idlemark-bay', 1, {
    upgrade(db) {
      db.createObjectStore('notes');
      db.createObjectStore('outbox', { keyPath: 'id' });
    },
    terminated() {
      opened = undefined;
    },
  }).catch((error) => {
    opened = undefined;
    throw error;
  });
  return opened;
}

export async function readNote<Key extends keyof Notes>(key: Key): Promise<Notes[Key] | null> {
  return ((await (await store()).get('notes', key)) as Notes[Key] | undefined) ?? null;
}

export async function writeNote<Key extends keyof Notes>(
  key: Key,
  value: Notes[Key] | null,
): Promise<void> {
  const db = await store();
  await (value === null ? db.delete('notes', key) : db.put('notes', value, key));
}

export const readOutbox = async (): Promise<KeptReading[]> => {
  const kept = await (await store()).getAll('outbox');
  return kept.sort((a, b) => a.payload.readAt.localeCompare(b.payload.readAt));
};

/** Puts a finished reading among the kept and takes its draft away, both or neither. */
export async function keepReading(reading: KeptReading): Promise<void> {
  const db = await store();
  const change = db.transaction(['notes', 'outbox'], 'readwrite', { durability: 'strict' });
  const notes = change.objectStore('notes');
  const recent = ((await notes.get('recent')) as Notes['recent'] | undefined) ?? [];
  const others = recent.filter((id) => id !== reading.unitId);
  change.objectStore('outbox').put(reading);
  notes.delete('draft');
  notes.put(reading.id, 'shown');
  notes.put([reading.unitId, ...others].slice(0, 20), 'recent');
  if (reading.payload.gaugeId) notes.put(reading.payload.gaugeId, 'gaugeId');
  await change.done;
}

export async function replaceKept(reading: KeptReading): Promise<void> {
  await (await store()).put('outbox', reading);
}

/** Takes a refused reading back to the card: the draft returns and the refused payload goes. */
export async function takeBack(reading: KeptReading, draft: Draft): Promise<void> {
  const db = await store();
  const change = db.transaction(['notes', 'outbox'], 'readwrite', { durability: 'strict' });
  change.objectStore('notes').put(draft, 'draft');
  change.objectStore('notes').delete('shown');
  change.objectStore('outbox').delete(reading.id);
  await change.done;
}

/** What is on record stays a day for the call's sake; what is not stays until it is. */
export async function forgetOldAnswers(before: Date): Promise<void> {
  const db = await store();
  for (const { id, answer } of await db.getAll('outbox')) {
    if (answer && new Date(answer.at) < before) await db.delete('outbox', id);
  }
}

/** A reading and its history take some 20 kB; a full device is refused before the first step. */
const roomNeeded = 2_000_000;

export async function hasRoom(): Promise<boolean> {
  const { quota, usage } = (await navigator.storage?.estimate()) ?? {};
  return quota === undefined || usage === undefined || quota - usage > roomNeeded;
}
