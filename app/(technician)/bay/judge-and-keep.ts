import type { KeptReading } from '@/app/_offline/kept-reading';
import type { Draft } from '@/lib/bay-card/draft';
import { draftToPayload } from '@/lib/bay-card/draft-to-payload';
import type { BayUnit } from '@/lib/bay-card/snapshot';
import { judge } from './later-parts';
import type { Bay } from './use-bay';

/** Judges on the device and keeps the reading; false when the device could not keep it. */
export async function judgeAndKeep(
  draft: Draft,
  unit: BayUnit | undefined,
  { snapshot, outbox, keep }: Bay,
): Promise<boolean> {
  const now = new Date();
  const heardOn = snapshot?.heardAt.slice(0, 10) ?? null;
  const payload = draftToPayload(draft, { readAt: now.toISOString(), deviceCall: null });
  const judgeOnDevice = await judge();
  const before = outbox.filter(({ unitId }) => unitId === draft.unitId);
  const judged =
    snapshot && unit
      ? judgeOnDevice(snapshot, unit, [...before.map((kept) => kept.payload), payload], now)
      : null;
  const mark = judged?.assessment.mark;
  const reading: KeptReading = {
    id: draft.id,
    unitId: draft.unitId,
    signerName: draft.signerName,
    payload: mark ? { ...payload, deviceCall: { mark, heardFromDeskOn: heardOn } } : payload,
    draft,
    judged,
    heardOn,
    state: 'waiting',
    refusal: null,
    answer: null,
  };
  return keep(reading);
}
