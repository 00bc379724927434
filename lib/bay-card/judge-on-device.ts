import { type AssessUnitInput, assessUnit, type UnitAssessment } from '@/lib/analysis/assess-unit';
import type { Reading } from '@/lib/analysis/reading';
import type { BaySnapshot, BayUnit } from '@/lib/bay-card/snapshot';
import { localDay } from '@/lib/calendar';
import { measuredValues } from '@/lib/intake/measured-values';
import type { ReadingPayload } from '@/lib/intake/reading-payload';
import type { DayNumber } from '@/lib/measure';

/** A payload as the analysis takes it; null where a figure cannot be understood. */
export function readingOfPayload(
  payload: ReadingPayload,
  readOn: DayNumber,
  entry: number,
): Reading | null {
  const measured = measuredValues(payload.keyed);
  if (!measured.ok) return null;
  return {
    ...measured.value,
    id: payload.id,
    readOn,
    entry,
    holdTime: measured.value.holdLoss === null ? null : payload.holdTimeS,
    line: payload.line,
    pedal: payload.pedal,
    belt: payload.belt,
    technician: payload.signedBy,
    gauge: payload.gaugeId,
  };
}

export interface JudgedOnDevice {
  readonly assessment: UnitAssessment;
  readonly reading: Reading;
}

/**
 * The verdict that the server would reach, knowing the snapshot and the readings kept since, oldest
 * first; the last is the one to judge. As there, each reading past a stop limit stands the unit down
 * for those after it. Null without a reading that can be understood.
 */
export function judgeOnDevice(
  snapshot: BaySnapshot,
  unit: BayUnit,
  payloads: readonly ReadingPayload[],
  now: Date,
): JudgedOnDevice | null {
  const timeZone = snapshot.sheds.find(({ id }) => id === unit.shedId)?.timeZone ?? 'UTC';
  const known = new Set(unit.input.readings.map(({ id }) => id));
  let entry = Math.max(0, ...unit.input.readings.map((one) => one.entry));
  let input: AssessUnitInput = {
    ...unit.input,
    limits: snapshot.limits,
    prior: snapshot.prior,
    ...(snapshot.fleetBeltRate !== undefined && { fleetBeltRate: snapshot.fleetBeltRate }),
    asOf: localDay(now, timeZone),
    isForecastCharted: false,
    pressureUnit: snapshot.person.pressureUnit,
    distanceUnit: snapshot.person.distanceUnit,
  };
  let judged: JudgedOnDevice | null = null;
  for (const payload of payloads) {
    if (known.has(payload.id)) continue;
    entry += 1;
    const reading = readingOfPayload(payload, localDay(new Date(payload.readAt), timeZone), entry);
    if (!reading) continue;
    input = { ...input, readings: [...input.readings, reading] };
    const assessment = assessUnit(input);
    judged = { assessment, reading };
    if (assessment.mark === 'Out of service' && !input.openSpell) {
      const why = assessment.reasons[0]?.text ?? 'A stop limit is passed.';
      input = { ...input, openSpell: { why, openedOn: reading.readOn } };
    }
  }
  return judged;
}
