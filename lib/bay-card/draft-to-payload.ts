import { withPoint } from '@/lib/bay-card/apply-key';
import type { Draft, EntryField } from '@/lib/bay-card/draft';
import type { ReadingPayload } from '@/lib/intake/reading-payload';

/** What was keyed, as keyed: figures with their point, and the unit of measure chosen. */
export function keyedOf(draft: Draft): ReadingPayload['keyed'] {
  const { entries, traced, pressureUnit, distanceUnit } = draft;
  const measured = <Unit extends string>(field: EntryField, unit: Unit) => {
    const figure = traced?.[field];
    if (figure !== undefined) return { value: figure, unit, from: 'trace' as const };
    return entries[field] === '' ? undefined : { value: withPoint(entries[field]), unit };
  };
  const pressure = (field: EntryField) => measured(field, pressureUnit);
  const { odometer } = entries;
  const keyed = {
    idle: pressure('idle'),
    raised: pressure('raised'),
    lowest: pressure('lowest'),
    recovery: measured('recovery', 's' as const),
    [traced?.heldAfter === undefined ? 'heldAfter' : 'holdLoss']: pressure('heldAfter'),
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
    ...(draft.trace && Object.keys(draft.traced ?? {}).length > 0 && { trace: draft.trace }),
  };
}
