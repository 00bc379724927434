'use client';

import { useCallback, useEffect, useRef, useState } from 'react';
import {
  forgetOldAnswers,
  hasRoom,
  keepReading,
  type RememberedGauge,
  readKept,
  readNote,
  readOutbox,
  takeBack,
  writeNote,
} from '@/app/_offline/bay-store';
import { drainOutbox } from '@/app/_offline/drain-outbox';
import { type Fetched, fetchSnapshot } from '@/app/_offline/fetch-snapshot';
import type { KeptReading } from '@/app/_offline/kept-reading';
import { noteMidway } from '@/app/_offline/midway';
import { advanceDraft } from '@/lib/bay-card/advance-draft';
import type { Draft } from '@/lib/bay-card/draft';
import type { DraftAction } from '@/lib/bay-card/draft-action';
import type { BaySnapshot } from '@/lib/bay-card/snapshot';
import { type Standby, useStandby } from './use-standby';

const sendEveryMs = 10_000;
const answersKeptMs = 24 * 3_600_000;

export interface Bay {
  /** What the device keeps has been looked at. */
  readonly isOpen: boolean;
  /** The desk has been asked once since. */
  readonly isHeard: boolean;
  readonly snapshot: BaySnapshot | null;
  readonly draft: Draft | null;
  readonly outbox: readonly KeptReading[];
  readonly shown: KeptReading | null;
  readonly recent: readonly string[];
  readonly rememberedGauge: RememberedGauge | null;
  readonly signal: 'signal' | 'no signal' | 'sign in again' | 'not yours';
  readonly standby: Standby;
  /** Why the last step could not be kept on this device. */
  readonly trouble: string | null;
  touch(action: DraftAction): void;
  begin(draft: Draft): Promise<void>;
  leave(): Promise<void>;
  keep(reading: KeptReading): Promise<boolean>;
  mend(reading: KeptReading, draft: Draft): Promise<void>;
  nextUnit(): Promise<void>;
}

const noRoom =
  'This device is full and could keep no reading. Free some space, then pick the unit again.';
const notKept = 'This device could not keep that step. Free some space and touch it again.';

/**
 * The bay card's state: what the device keeps, and what has been heard from the desk. Where the desk
 * said whose page it is, units that somebody else's visit left on the device are not shown.
 */
export function useBay(personId: string | undefined): Bay {
  const [isOpen, setIsOpen] = useState(false);
  const [snapshot, setSnapshot] = useState<BaySnapshot | null>(null);
  const [draft, setDraft] = useState<Draft | null>(null);
  const [outbox, setOutbox] = useState<readonly KeptReading[]>([]);
  const [shownId, setShownId] = useState<string | null>(null);
  const [recent, setRecent] = useState<readonly string[]>([]);
  const [rememberedGauge, setRememberedGauge] = useState<RememberedGauge | null>(null);
  const [signal, setSignal] = useState<Bay['signal']>('signal');
  const [trouble, setTrouble] = useState<string | null>(null);
  const [isHeard, setIsHeard] = useState(false);
  const standby = useStandby(isHeard && snapshot !== null, signal === 'signal');
  const newest = useRef<Draft | null>(null);
  /** Only one tab sends; the others are told to look again. */
  const otherTabs = useRef<BroadcastChannel | null>(null);

  const showKept = useCallback(async () => {
    const kept = await readKept();
    setOutbox(kept.outbox);
    setShownId(kept.shownId);
    setRecent(kept.recent);
    setRememberedGauge(kept.gauge);
  }, []);

  const hear = useCallback(async (asked?: Promise<Fetched>) => {
    const heard = await (asked ?? fetchSnapshot());
    if (typeof heard === 'string') return setSignal(heard);
    setSnapshot(heard);
    setSignal('signal');
    await writeNote('snapshot', heard);
  }, []);

  const send = useCallback(async () => {
    const before = await readOutbox();
    if (!before.some(({ state, photo }) => state === 'waiting' || photo)) return;
    const drained = await drainOutbox((answered) =>
      setOutbox((kept) => kept.map((one) => (one.id === answered.id ? answered : one))),
    );
    await showKept();
    otherTabs.current?.postMessage('drained');
    if (drained !== 'nothing left') return setSignal(drained);
    setSignal('signal');
    await hear();
  }, [hear, showKept]);

  useEffect(() => {
    let isGone = false;
    const open = async () => {
      // Asked at once, so that the page's own early request of it is the one that answers.
      const asked = fetchSnapshot();
      const [keptDraft, keptSnapshot] = await Promise.all([
        readNote('draft'),
        readNote('snapshot'),
        showKept(),
      ]);
      newest.current = keptDraft;
      if (isGone) return;
      setDraft(keptDraft);
      const isOthers = personId !== undefined && keptSnapshot?.person.id !== personId;
      setSnapshot(isOthers ? null : keptSnapshot);
      setIsOpen(true);
      await hear(asked);
      setIsHeard(true);
      await send();
      await forgetOldAnswers(new Date(Date.now() - answersKeptMs));
      await navigator.storage?.persist?.();
    };
    open().catch((error: unknown) => {
      setTrouble(`This device keeps nothing: ${error instanceof Error ? error.message : error}`);
      setIsOpen(true);
    });
    return () => {
      isGone = true;
    };
  }, [hear, personId, send, showKept]);

  const isMidway = draft !== null || shownId !== null;
  useEffect(() => {
    if (isOpen) noteMidway(isMidway);
  }, [isOpen, isMidway]);

  useEffect(() => {
    const hasSignal = () => void hear().then(send);
    const lostSignal = () => setSignal('no signal');
    const seen = () => {
      if (document.visibilityState === 'visible') void send();
      else if (newest.current) touchNewest({ type: 'hide page' });
    };
    const touchNewest = (action: DraftAction) => {
      if (!newest.current) return;
      newest.current = advanceDraft(newest.current, action);
      setDraft(newest.current);
      void writeNote('draft', newest.current);
    };
    const tabs = new BroadcastChannel('idlemark outbox');
    tabs.onmessage = () => void showKept();
    otherTabs.current = tabs;
    const every = setInterval(() => void send(), sendEveryMs);
    window.addEventListener('online', hasSignal);
    window.addEventListener('offline', lostSignal);
    document.addEventListener('visibilitychange', seen);
    return () => {
      clearInterval(every);
      tabs.close();
      window.removeEventListener('online', hasSignal);
      window.removeEventListener('offline', lostSignal);
      document.removeEventListener('visibilitychange', seen);
    };
  }, [hear, send, showKept]);

  /** The screen moves once the device has kept the step, so that a killed page opens where it was. */
  const touch = useCallback((action: DraftAction) => {
    const before = newest.current;
    if (!before) return;
    const after = advanceDraft(before, action);
    newest.current = after;
    const kept = writeNote('draft', after);
    if (after.step === before.step) setDraft(after);
    kept.then(
      () => {
        setTrouble(null);
        setDraft(newest.current);
      },
      () => {
        newest.current = before;
        setDraft(before);
        setTrouble(notKept);
      },
    );
  }, []);

  return {
    isOpen,
    isHeard,
    snapshot,
    draft,
    outbox,
    shown: outbox.find(({ id }) => id === shownId) ?? null,
    recent,
    rememberedGauge,
    signal,
    standby,
    trouble,
    touch,
    async begin(begun) {
      if (!(await hasRoom())) return setTrouble(noRoom);
      try {
        await writeNote('draft', begun);
      } catch {
        return setTrouble(noRoom);
      }
      newest.current = begun;
      setTrouble(null);
      setDraft(begun);
    },
    async leave() {
      await writeNote('draft', null);
      await writeNote('trace', null);
      await writeNote('photo', null);
      newest.current = null;
      setDraft(null);
    },
    async keep(reading) {
      try {
        await keepReading(reading);
      } catch {
        setTrouble(notKept);
        return false;
      }
      newest.current = null;
      await showKept();
      setDraft(null);
      void send();
      return true;
    },
    async mend(reading, mended) {
      await takeBack(reading, mended);
      newest.current = mended;
      await showKept();
      setDraft(mended);
    },
    async nextUnit() {
      await writeNote('shown', null);
      setShownId(null);
    },
  };
}
