'use client';

import { useEffect, useState } from 'react';
import { momentNow } from '@/app/_offline/moment-now';
import type { Draft } from '@/lib/bay-card/draft';
import { elapsedSeconds, holdLeft } from '@/lib/bay-card/watch';

const tickMs = 100;

/** Runs `look` ten times a second while the watch runs. */
function useTick<Value>(watch: Draft['watch'], look: () => Value): Value {
  const [, setTick] = useState(0);
  useEffect(() => {
    if (!watch) return;
    const timer = setInterval(() => setTick((tick) => tick + 1), tickMs);
    return () => clearInterval(timer);
  }, [watch]);
  return look();
}

/** Whole seconds left of a running hold; nought when none runs. Buzzes when it ends. */
export function useHoldLeft({ watch }: Draft): number {
  const left = useTick(watch, () => (watch?.times === 'hold' ? holdLeft(watch, momentNow()) : 0));
  const isRunning = watch?.times === 'hold';
  const isOver = left === 0;
  useEffect(() => {
    if (isRunning && isOver) navigator.vibrate?.(400);
  }, [isRunning, isOver]);
  return left;
}

/** Seconds since the last release; null when the watch does not run. */
export const useRecovery = ({ watch }: Draft): number | null =>
  useTick(watch, () => (watch?.times === 'recovery' ? elapsedSeconds(watch, momentNow()) : null));
