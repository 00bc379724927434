'use client';

import { useCallback, useEffect, useRef } from 'react';
import type { KeptReading } from '@/app/_offline/kept-reading';
import type { Draft } from '@/lib/bay-card/draft';
import { draftToPayload } from '@/lib/bay-card/draft-to-payload';
import type { JudgedOnDevice } from '@/lib/bay-card/judge-on-device';
import type { BayUnit } from '@/lib/bay-card/snapshot';
import { judge } from './later-parts';
import type { Bay } from './use-bay';

/** Time for the check to be painted first. */
const paintedMs = 50;
const hourMs = 3_600_000;

interface Judged {
  readonly at: Date;
  readonly judged: JudgedOnDevice | null;
}

/**
 * Judges the reading on the device while the technician looks over the check, so that the touch that
 * puts it on record waits for keeping it alone. The function given makes the reading to be kept.
 */
export function useJudged(
  draft: Draft,
  unit: BayUnit | undefined,
  { snapshot, outbox }: Bay,
): () => Promise<KeptReading> {
  const before = outbox.filter(({ unitId }) => unitId === draft.unitId);
  const known = before.map(({ id }) => id).join();
  // biome-ignore lint/correctness/useExhaustiveDependencies: of the outbox only the unit's readings count
  const judgeNow = useCallback(async (): Promise<Judged> => {
    const at = new Date();
    const judgeOnDevice = await judge();
    if (!snapshot || !unit) return { at, judged: null };
    const payload = draftToPayload(draft, { readAt: at.toISOString(), deviceCall: null });
    const payloads = [...before.map((kept) => kept.payload), payload];
    return { at, judged: judgeOnDevice(snapshot, unit, payloads, at) };
  }, [draft, unit, snapshot, known]);
  const judging = useRef<Promise<Judged>>(undefined);
  useEffect(() => {
    judging.current = undefined;
    const timer = setTimeout(() => {
      judging.current = judgeNow();
    }, paintedMs);
    return () => clearTimeout(timer);
  }, [judgeNow]);

  return async () => {
    const now = new Date();
    const early = await judging.current;
    // Looked over across midnight somewhere: judged as of the new day.
    const isSameHour = early && Math.floor(+early.at / hourMs) === Math.floor(+now / hourMs);
    const { judged } = isSameHour ? early : await judgeNow();
    const heardOn = snapshot?.heardAt.slice(0, 10) ?? null;
    const mark = judged?.assessment.mark;
    const deviceCall = mark ? { mark, heardFromDeskOn: heardOn } : null;
    return {
      id: draft.id,
      unitId: draft.unitId,
      signerName: draft.signerName,
      payload: draftToPayload(draft, { readAt: now.toISOString(), deviceCall }),
      draft,
      judged,
      heardOn,
      state: 'waiting',
      refusal: null,
      answer: null,
    };
  };
}
