import { withPoint } from '@/lib/bay-card/apply-key';
import type { Draft, EntryField } from '@/lib/bay-card/draft';
import type { ReadingPayload } from '@/lib/intake/reading-payload';

/** What was keyed, as keyed: figures with their point, and the unit of measure chosen. */
export function keyedOf({ entries, pressureUnit, distanceUnit }: Draft): ReadingPayload['keyed'] {
  const pressure = (field: EntryField) =>
    entries[field] === '' ? undefined : { value: withPoint(entries[field]), unit: pressureUnit };
  const { recovery, odometer } = entries;
  const keyed = {
    idle: pressure('idle'),
    raised: pressure('raised'),
    lowest: pressure('lowest'),
    recovery: recovery === '' ? undefined : { value: withPoint(recovery), unit: 's' as const },
    heldAfter: pressure('heldAfter'),
    odometer: odometer === '' ? undefined : { value: odometer, unit: distanceUnit },
  };
  return Object.fromEntries(Object.entries(keyed).filter(([, entry]) => entry !== undefined));
}

interface Submission {
  readonly readAt: string;
  readonly deviceCall: ReadingPayload['deviceCall'];
}

/** The reading as it is sent. What was not measured carries its reason. */
export function draftToPayload(draft: Draft, { readAt, deviceCall }: Submission): ReadingPayload {
  return {
    version: 1,
    id: draft.id,
    unitId: draft.unitId,
    signedBy: draft.signedBy,
    gaugeId: draft.gaugeId,
    readAt,
    source: 'bay card',
    keyed: keyedOf(draft),
    isRecoveryKeyed: draft.entries.recovery !== '' && draft.isRecoveryKeyed,
    holdTimeS: draft.entries.heldAfter === '' ? null : draft.holdTimeS,
    line: draft.line ?? 'not seen',
    pedal: draft.pedal,
    belt: draft.belt,
    couldNot: draft.couldNot,
    isClipTugged: draft.isClipTugged,
    isProof: draft.isProof,
    note: null,
    confirmed: [...draft.confirmed],
    deviceCall,
  };
}
