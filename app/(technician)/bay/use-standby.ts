'use client';

import { useEffect, useState } from 'react';
import { canKeepPage, isPageKept, registerWorker } from '@/app/_offline/register-worker';
import { loadLaterParts } from './later-parts';

/** Whether the card would open here without signal: the first sign-in on a device takes some seconds. */
export type Standby = 'getting ready' | 'ready' | 'only while open';

const lookEveryMs = 500;

/** `isHeard`: the units are on this device. What failed for want of signal is tried again with it. */
export function useStandby(isHeard: boolean, hasSignal: boolean): Standby {
  const [standby, setStandby] = useState<Standby>('getting ready');
  // biome-ignore lint/correctness/useExhaustiveDependencies: signal that comes back is a new try
  useEffect(() => {
    if (!isHeard) return;
    let timer: ReturnType<typeof setTimeout> | undefined;
    let isGone = false;
    const look = async () => {
      const isKept = await isPageKept();
      if (isGone) return;
      if (isKept) setStandby('ready');
      else timer = setTimeout(look, lookEveryMs);
    };
    const getReady = async () => {
      if (!canKeepPage()) return setStandby('only while open');
      await loadLaterParts();
      await registerWorker();
      await look();
    };
    getReady().catch(() => setStandby('getting ready'));
    return () => {
      isGone = true;
      clearTimeout(timer);
    };
  }, [isHeard, hasSignal]);
  return standby;
}
