import { and, eq, sql } from 'drizzle-orm';
import { type Actor, requirePermission } from '@/lib/access';
import type { Question } from '@/lib/analysis/plausibility';
import { isoFromDay, localDay } from '@/lib/calendar';
import { measuredValues } from '@/lib/intake/measured-values';
import { checkPayload, contextOf } from '@/lib/intake/payload-plausibility';
import type { ReadingPayload } from '@/lib/intake/reading-payload';
import { canonicalJson } from '@/lib/ledger/canonical-json';
import type { Metres } from '@/lib/measure';
import { failure, type Problem, type Result, success } from '@/lib/result';
import type { Db, Tx } from '../client';
import { appendToLedger, holdingLedger, sha256 } from '../ledger';
import { readingsOfUnits } from '../reads/readings-of-units';
import { judgeBulletinsOfUnits } from '../record/judge-bulletins';
import { judgeUnit, type StoredVerdict } from '../record/judge-unit';
import { noteDriving } from '../record/note-driving';
import { proveOrders } from '../record/prove-orders';
import { settleLateReading } from '../record/settle-late-reading';
import { gauge, person, reading, shed, unit, verdict } from '../schema';
import { inTransaction } from '../transaction';

export interface Recorded {
  readonly readingId: string;
  readonly entry: number;
  readonly verdict: StoredVerdict;
  /** True when this very reading was on record already: nothing changed. */
  readonly wasOnRecord: boolean;
}

export type RecordFailure =
  | { readonly kind: 'problems'; readonly problems: readonly Problem[] }
  /** Odd values that nobody has let stand yet. */
  | { readonly kind: 'questions'; readonly questions: readonly Question[] }
  | { readonly kind: 'unknown unit' }
  /** The id is on record with another payload: never merged. */
  | { readonly kind: 'another payload' };

interface RecordReading {
  readonly actor: Actor;
  readonly payload: ReadingPayload;
  readonly now: Date;
  /** What the device's clock showed when it sent this; null where it did not say. */
  readonly deviceNow?: Date | null;
}

const refuse = (field: string, message: string, mend: string): Result<never, RecordFailure> =>
  failure({ kind: 'problems', problems: [{ field, message, mend }] });

/** Device clocks may run ahead a little; a reading from further in the future is a wrong clock. */
const clockAheadAllowedMs = 48 * 3_600_000;

/** Readings that this process is at, so that the same one sent again holds no connection while it waits. */
const underWay = new Map<string, Promise<unknown>>();

/** Records one reading, judges the unit and leaves the ledger entry, all or nothing. */
export async function recordReading(
  db: Db,
  asked: RecordReading,
): Promise<Result<Recorded, RecordFailure>> {
  const { id } = asked.payload;
  while (underWay.has(id)) await underWay.get(id)?.catch(() => {});
  const recording = record(db, asked);
  underWay.set(id, recording);
  try {
    return await recording;
  } finally {
    underWay.delete(id);
  }
}

async function record(
  db: Db,
  { actor, payload, now, deviceNow = null }: RecordReading,
): Promise<Result<Recorded, RecordFailure>> {
  const measured = measuredValues(payload.keyed);
  if (!measured.ok) return failure({ kind: 'problems', problems: measured.error });
  const readAt = new Date(payload.readAt);
  if (readAt.getTime() - now.getTime() > clockAheadAllowedMs) {
    return refuse('readAt', 'The reading is dated in the future.', 'Set the clock of the device.');
  }
  const digest = sha256(canonicalJson(payload));
  const known = await onRecord(db, payload, digest, actor);
  if (known) return known;

  return inTransaction(db, async (tx): Promise<Result<Recorded, RecordFailure>> => {
    const [found] = await tx
      .select({ locked: unit, place: shed })
      .from(unit)
      .innerJoin(shed, eq(shed.id, unit.shedId))
      .where(eq(unit.id, payload.unitId))
      .for('update', { of: unit });
    if (!found) return failure({ kind: 'unknown unit' });
    const { locked, place } = found;
    requirePermission(actor, 'record a reading', locked.shedId);
    const meanwhile = await onRecord(tx, payload, digest, actor);
    if (meanwhile) return meanwhile;
    const refused = await refusalOfSigner(tx, actor, payload);
    if (refused) return refused;
    const values = measured.value;
    const readOn = localDay(readAt, place.timeZone);
    const { problems, questions } = checkPayload(
      payload,
      values,
      readOn,
      contextOf((await readingsOfUnits(tx, [locked.id])).get(locked.id) ?? [], {
        elevation: place.elevationM,
        expectedIdleSle: await levelOf(tx, locked.id),
      }),
    );
    if (problems.length > 0) return failure({ kind: 'problems', problems });
    if (questions.length > 0) return failure({ kind: 'questions', questions });
    const [row] = await tx
      .insert(reading)
      .values({
        id: payload.id,
        unitId: locked.id,
        shedId: locked.shedId,
        technicianId: payload.signedBy,
        gaugeId: payload.gaugeId,
        readOn: isoFromDay(readOn),
        readAt,
        receivedAt: now,
        clockSkewS: deviceNow && (deviceNow.getTime() - now.getTime()) / 1000,
        idleVacuumKpa: values.idle,
        raisedVacuumKpa: values.raised,
        lowestKpa: values.lowest,
        recoveryS: values.recovery,
        isRecoveryKeyed: payload.isRecoveryKeyed,
        holdLossKpa: values.holdLoss,
        holdTimeS: values.holdLoss === null ? null : payload.holdTimeS,
        line: payload.line,
        pedal: payload.pedal,
        belt: payload.belt,
        barometerKpa: values.barometer,
        odometerKm: values.odometer,
        isClipTugged: payload.isClipTugged,
        couldNot: payload.couldNot,
        keyed: payload.keyed,
        note: payload.note,
        isProof: payload.isProof,
        source: payload.source,
        deviceCall: payload.deviceCall,
        trace: payload.trace ?? null,
        payloadVersion: payload.version,
        payloadDigest: digest,
      })
      .returning();
    if (!row) throw new Error('the reading was not stored');
    const stored = await holdingLedger(tx, () =>
      noteAndJudge(tx, { row, payload, elevation: place.elevationM, actor, now }),
    );
    return success({
      readingId: payload.id,
      entry: row.entry,
      verdict: stored,
      wasOnRecord: false,
    });
  });
}

interface NewReading extends Pick<RecordReading, 'payload' | 'actor' | 'now'> {
  readonly row: typeof reading.$inferSelect;
  readonly elevation: Metres;
}

/** What a new reading sets off: its entry, orders proven, spells, bulletins, and the verdict. */
async function noteAndJudge(
  tx: Tx,
  { row, payload, elevation, actor, now }: NewReading,
): Promise<StoredVerdict> {
  const { unitId } = row;
  await appendToLedger(tx, {
    kind: 'reading recorded',
    actor,
    now,
    deviceAt: row.readAt,
    unitId,
    payload: { reading: payload, digest: row.payloadDigest },
  });
  await proveOrders(tx, { row, elevation, actor, now });
  await settleLateReading(tx, { row, actor, now });
  await noteDriving(tx, {
    unitId,
    odometer: row.odometerKm,
    seenAt: row.readAt,
    seenBy: 'reading',
    actor,
    now,
  });
  await judgeBulletinsOfUnits(tx, [unitId], {
    touched: 'readings',
    isCorrection: false,
    because: 'reading recorded',
    actor,
    now,
  });
  const stored = await judgeUnit(tx, { unitId, actor, now, because: 'reading recorded' });
  await noteOtherCall(tx, { payload, stored, actor, now });
  return stored;
}

/** The device judged by less than the desk knew: where the two differ, the ledger holds both. */
async function noteOtherCall(
  tx: Tx,
  {
    payload,
    stored,
    actor,
    now,
  }: Pick<RecordReading, 'payload' | 'actor' | 'now'> & { readonly stored: StoredVerdict },
): Promise<void> {
  const { deviceCall } = payload;
  if (!deviceCall || deviceCall.mark === stored.mark) return;
  await appendToLedger(tx, {
    kind: 'judged otherwise than on the device',
    actor,
    now,
    unitId: payload.unitId,
    payload: {
      readingId: payload.id,
      device: deviceCall,
      desk: { mark: stored.mark, rules: stored.assessment.reasons.map(({ rule }) => rule) },
    },
  });
}

/** Sea-level equivalent that the unit's newest verdict holds it to have. */
async function levelOf(tx: Tx, unitId: string): Promise<number | null> {
  const [current] = await tx
    .select({ level: sql<number | null>`(${verdict.assessment} #>> '{idle,levelSle}')::float8` })
    .from(verdict)
    .where(and(eq(verdict.unitId, unitId), eq(verdict.isCurrent, true)));
  return current?.level ?? null;
}

/** A shared tablet sends readings of whoever signed them: the signer must be a person who may read. */
async function refusalOfSigner(
  tx: Tx,
  actor: Actor,
  payload: ReadingPayload,
): Promise<Result<never, RecordFailure> | null> {
  if (payload.signedBy !== actor.personId) {
    const [signer] = await tx.select().from(person).where(eq(person.id, payload.signedBy));
    if (!signer || !['technician', 'safety officer'].includes(signer.role)) {
      return refuse(
        'signedBy',
        'Nobody who takes readings signed this.',
        'Sign in as the person who read the unit.',
      );
    }
  }
  if (payload.gaugeId !== null) {
    const [found] = await tx
      .select({ id: gauge.id })
      .from(gauge)
      .where(eq(gauge.id, payload.gaugeId));
    if (!found) return refuse('gaugeId', 'No such gauge is on record.', 'Choose the gauge again.');
  }
  return null;
}

/** The answer to a reading that is on record; null to one that is not. */
async function onRecord(
  db: Db | Tx,
  { id }: ReadingPayload,
  digest: string,
  actor: Actor,
): Promise<Result<Recorded, RecordFailure> | null> {
  const [found] = await db
    .select({ digest: reading.payloadDigest, entry: reading.entry, shedId: unit.shedId, verdict })
    .from(reading)
    .innerJoin(unit, eq(unit.id, reading.unitId))
    .leftJoin(verdict, and(eq(verdict.unitId, reading.unitId), eq(verdict.isCurrent, true)))
    .where(eq(reading.id, id));
  if (!found) return null;
  requirePermission(actor, 'record a reading', found.shedId);
  return found.digest === digest && found.verdict
    ? success({ readingId: id, entry: found.entry, verdict: found.verdict, wasOnRecord: true })
    : failure({ kind: 'another payload' });
}
