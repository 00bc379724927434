import { createHash } from 'node:crypto';
import type { ReadingPayload } from '@/lib/intake/reading-payload';
import { fromKilometres, type PressureUnit } from '@/lib/measure';
import type { ReadingRow } from './histories';

const nothingElse: Pick<
  ReadingPayload,
  | 'version'
  | 'isRecoveryKeyed'
  | 'belt'
  | 'couldNot'
  | 'isClipTugged'
  | 'note'
  | 'confirmed'
  | 'deviceCall'
> = {
  version: 1,
  isRecoveryKeyed: false,
  belt: null,
  couldNot: {},
  isClipTugged: true,
  note: null,
  confirmed: [],
  deviceCall: null,
};

/** An invented reading as the bay card would have sent it. */
export const readingPayloadOf = (row: ReadingRow): ReadingPayload => ({
  ...nothingElse,
  id: row.id,
  unitId: row.unitId,
  signedBy: row.technicianId ?? '',
  gaugeId: row.gaugeId ?? null,
  readAt: row.readAt.toISOString(),
  source: 'bay card',
  keyed: row.keyed as ReadingPayload['keyed'],
  holdTimeS: row.holdTimeS ?? null,
  line: row.line,
  pedal: row.pedal ?? null,
  isProof: false,
});

interface Visit extends Partial<Pick<ReadingPayload, 'line' | 'pedal' | 'isProof'>> {
  readonly unitId: string;
  readonly signedBy: string;
  readonly gaugeId: string;
  readonly readAt: Date;
  readonly pressureUnit: PressureUnit;
  readonly idle: number;
  readonly lowest: number;
  readonly recovery: number;
  readonly holdLoss: number;
  readonly odometerKm: number;
}

/** The same visit gives the same id on every machine. */
function idOf({ unitId, readAt }: Visit): string {
  const hex = createHash('sha256').update(`${unitId} ${readAt.toISOString()}`).digest('hex');
  return `${hex.slice(0, 8)}-${hex.slice(8, 12)}-4${hex.slice(13, 16)}-a${hex.slice(17, 20)}-${hex.slice(20, 32)}`;
}

export function visitPayload(visit: Visit): ReadingPayload {
  const pressure = (value: number) => ({ value: value.toFixed(1), unit: visit.pressureUnit });
  return {
    ...nothingElse,
    id: idOf(visit),
    unitId: visit.unitId,
    signedBy: visit.signedBy,
    gaugeId: visit.gaugeId,
    readAt: visit.readAt.toISOString(),
    source: 'bay card',
    keyed: {
      idle: pressure(visit.idle),
      lowest: pressure(visit.lowest),
      recovery: { value: visit.recovery.toFixed(1), unit: 's' },
      holdLoss: pressure(visit.holdLoss),
      odometer: { value: fromKilometres(visit.odometerKm, 'mi').toFixed(0), unit: 'mi' },
    },
    holdTimeS: 60,
    line: visit.line ?? 'dry',
    pedal: visit.pedal ?? 'normal',
    isProof: visit.isProof ?? false,
  };
}
