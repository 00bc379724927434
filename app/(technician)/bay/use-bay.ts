'use client';

import { useCallback, useEffect, useState } from 'react';
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
import { hearOtherTabs, tellOtherTabs } from '@/app/_offline/other-tabs';
import type { Draft } from '@/lib/bay-card/draft';
import type { DraftAction } from '@/lib/bay-card/draft-action';
import type { BaySnapshot } from '@/lib/bay-card/snapshot';
import { useDraft } from './use-draft';
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
  const [outbox, setOutbox] = useState<readonly KeptReading[]>([]);
  const [shownId, setShownId] = useState<string | null>(null);
  const [recent, setRecent] = useState<readonly string[]>([]);
  const [rememberedGauge, setRememberedGauge] = useState<RememberedGauge | null>(null);
  const [signal, setSignal] = useState<Bay['signal']>('signal');
  const [trouble, setTrouble] = useState<string | null>(null);
  const [isHeard, setIsHeard] = useState(false);
  const standby = useStandby(isHeard && snapshot !== null, signal === 'signal');
  const isStepKept = useCallback((isKept: boolean) => setTrouble(isKept ? null : notKept), []);
  const { draft, begin, show, touch, hidePage, lookAgain } = useDraft(isStepKept);

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
    tellOtherTabs();
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
      if (isGone) return;
      show(keptDraft);
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
  }, [hear, personId, send, show, showKept]);

  const isMidway = draft !== null || shownId !== null;
  useEffect(() => {
    if (isOpen) noteMidway(isMidway);
  }, [isOpen, isMidway]);

  useEffect(() => {
    const hasSignal = () => void hear().then(send);
    const lostSignal = () => setSignal('no signal');
    const seen = () => {
      if (document.visibilityState === 'visible') void lookAgain().then(send);
      else hidePage();
    };
    const deafen = hearOtherTabs(() => void Promise.all([lookAgain(), showKept()]));
    const every = setInterval(() => void send(), sendEveryMs);
    window.addEventListener('online', hasSignal);
    window.addEventListener('offline', lostSignal);
    document.addEventListener('visibilitychange', seen);
    return () => {
      clearInterval(every);
      deafen();
      window.removeEventListener('online', hasSignal);
      window.removeEventListener('offline', lostSignal);
      document.removeEventListener('visibilitychange', seen);
    };
  }, [hear, hidePage, lookAgain, send, showKept]);

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
        await begin(begun);
      } catch {
        return setTrouble(noRoom);
      }
      setTrouble(null);
    },
    async leave() {
      await writeNote('trace', null);
      await writeNote('photo', null);
      await begin(null);
    },
    async keep(reading) {
      try {
        await keepReading(reading);
      } catch {
        setTrouble(notKept);
        return false;
      }
      await showKept();
      show(null);
      tellOtherTabs();
      void send();
      return true;
    },
    async mend(reading, mended) {
      await takeBack(reading, mended);
      await showKept();
      show(mended);
      tellOtherTabs();
    },
    async nextUnit() {
      await writeNote('shown', null);
      setShownId(null);
    },
  };
}
