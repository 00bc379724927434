import { type DBSchema, type IDBPDatabase, openDB } from 'idb';
import type { KeptTrace, KnownColumns } from '@/app/(technician)/bay/trace/kept-trace';
import type { Draft } from '@/lib/bay-card/draft';
import type { BaySnapshot } from '@/lib/bay-card/snapshot';
import type { PressureUnit } from '@/lib/measure';
import type { KeptReading } from './kept-reading';

interface Notes {
  readonly snapshot: BaySnapshot;
  readonly draft: Draft;
  readonly gaugeId: string;
  /** The scale of that gauge that was read. */
  readonly gaugeUnit: PressureUnit;
  readonly trace: KeptTrace;
  /** Picture of the line for the reading under way. */
  readonly photo: { readonly draftId: string; readonly picture: Blob };
  readonly traceColumns: KnownColumns;
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

export interface RememberedGauge {
  readonly id: string;
  /** Null where an older build remembered it. */
  readonly unit: PressureUnit | null;
}

export interface KeptHere {
  readonly shownId: string | null;
  readonly recent: readonly string[];
  readonly gauge: RememberedGauge | null;
  /** Oldest first. */
  readonly outbox: readonly KeptReading[];
}

/** What changes with each reading, in one look: not the snapshot, which takes long to read. */
export async function readKept(): Promise<KeptHere> {
  const look = (await store()).transaction(['notes', 'outbox']);
  const notes = look.objectStore('notes');
  const note = async <Key extends keyof Notes>(key: Key) =>
    ((await notes.get(key)) as Notes[Key] | undefined) ?? null;
  const [shownId, recent, gaugeId, unit, outbox] = await Promise.all([
    note('shown'),
    note('recent'),
    note('gaugeId'),
    note('gaugeUnit'),
    look.objectStore('outbox').getAll(),
  ]);
  const gauge = gaugeId === null ? null : { id: gaugeId, unit };
  return { shownId, recent: recent ?? [], gauge, outbox: inOrder(outbox) };
}

export async function writeNote<Key extends keyof Notes>(
  key: Key,
  value: Notes[Key] | null,
): Promise<void> {
  const db = await store();
  await (value === null ? db.delete('notes', key) : db.put('notes', value, key));
}

export const readOutbox = async (): Promise<KeptReading[]> => {
  return inOrder(await (await store()).getAll('outbox'));
};

const inOrder = (kept: readonly KeptReading[]): KeptReading[] =>
  kept.toSorted((a, b) => a.payload.readAt.localeCompare(b.payload.readAt));

/** Puts a finished reading among the kept and takes its draft away, both or neither. */
export async function keepReading(reading: KeptReading): Promise<void> {
  const db = await store();
  const change = db.transaction(['notes', 'outbox'], 'readwrite', { durability: 'strict' });
  const notes = change.objectStore('notes');
  const recent = ((await notes.get('recent')) as Notes['recent'] | undefined) ?? [];
  const photo = (await notes.get('photo')) as Notes['photo'] | undefined;
  const own = photo?.draftId === reading.id ? { photo: photo.picture } : {};
  const others = recent.filter((id) => id !== reading.unitId);
  change.objectStore('outbox').put({ ...reading, ...own });
  notes.delete('draft');
  notes.delete('photo');
  notes.delete('trace');
  notes.put(reading.id, 'shown');
  notes.put([reading.unitId, ...others].slice(0, 20), 'recent');
  if (reading.payload.gaugeId) {
    notes.put(reading.payload.gaugeId, 'gaugeId');
    notes.put(reading.draft.pressureUnit, 'gaugeUnit');
  }
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
  if (reading.photo) {
    change.objectStore('notes').put({ draftId: draft.id, picture: reading.photo }, 'photo');
  }
  change.objectStore('notes').delete('shown');
  change.objectStore('outbox').delete(reading.id);
  await change.done;
}

/** What is on record stays a day for the call's sake; what is not stays until it is. */
export async function forgetOldAnswers(before: Date): Promise<void> {
  const db = await store();
  for (const { id, answer, photo } of await db.getAll('outbox')) {
    if (answer && !photo && new Date(answer.at) < before) await db.delete('outbox', id);
  }
}

/** A reading and its history take some 20 kB; a full device is refused before the first step. */
const roomNeeded = 2_000_000;

export async function hasRoom(): Promise<boolean> {
  const { quota, usage } = (await navigator.storage?.estimate()) ?? {};
  return quota === undefined || usage === undefined || quota - usage > roomNeeded;
}
