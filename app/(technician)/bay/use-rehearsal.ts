'use client';

import { useEffect } from 'react';
import type { Draft } from '@/lib/bay-card/draft';
import { draftToPayload } from '@/lib/bay-card/draft-to-payload';
import type { BaySnapshot, BayUnit } from '@/lib/bay-card/snapshot';
import { localDay } from '@/lib/calendar';
import { judge } from './later-parts';

/** Time for the screen to be painted first. */
const paintedMs = 300;

/**
 * Does once, while the technician's hands are elsewhere, what is slow the first time: at the cautions
 * the shed's calendar, during the hold the judging. Touches that need them are then answered at once.
 */
export function useRehearsal(
  draft: Draft,
  unit: BayUnit | undefined,
  snapshot: BaySnapshot | null,
): void {
  const isHeld = draft.step === 'held';
  // biome-ignore lint/correctness/useExhaustiveDependencies: once for each of the two, whatever is keyed meanwhile
  useEffect(() => {
    if (!unit || !snapshot) return;
    const now = new Date();
    const rehearse = async () => {
      const timeZone = snapshot.sheds.find(({ id }) => id === unit.shedId)?.timeZone ?? 'UTC';
      localDay(now, timeZone);
      if (!isHeld) return;
      const payload = draftToPayload(draft, { readAt: now.toISOString(), deviceCall: null });
      (await judge())(snapshot, unit, [payload], now);
    };
    const timer = setTimeout(rehearse, paintedMs);
    return () => clearTimeout(timer);
  }, [isHeld, unit?.id]);
}
