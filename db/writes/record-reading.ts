import { and, eq, sql } from 'drizzle-orm';
import { type Actor, requirePermission } from '@/lib/access';
import type { Question } from '@/lib/analysis/plausibility';
import { isoFromDay, localDay } from '@/lib/calendar';
import { measuredValues } from '@/lib/intake/measured-values';
import { checkPayload, contextOf } from '@/lib/intake/payload-plausibility';
import type { ReadingPayload } from '@/lib/intake/reading-payload';
import { canonicalJson } from '@/lib/ledger/canonical-json';
import { failure, type Problem, type Result, success } from '@/lib/result';
import type { Db, Tx } from '../client';
import { appendToLedger, sha256 } from '../ledger';
import { readingsOfUnits } from '../reads/readings-of-units';
import { judgeUnit, type StoredVerdict } from '../record/judge-unit';
import { noteDriving } from '../record/note-driving';
import { proveOrders } from '../record/prove-orders';
import { settleLateReading } from '../record/settle-late-reading';
import { gauge, person, reading, shed, verdict } from '../schema';
import { inTransaction, lockUnit } from '../transaction';

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

/** Records one reading, judges the unit and leaves the ledger entry, all or nothing. */
export async function recordReading(
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

  return inTransaction(db, async (tx): Promise<Result<Recorded, RecordFailure>> => {
    const unit = await lockUnit(tx, payload.unitId);
    if (!unit) return failure({ kind: 'unknown unit' });
    requirePermission(actor, 'record a reading', unit.shedId);
    const before = await onRecord(tx, payload.id);
    if (before) {
      return before.digest === digest && before.recorded
        ? success(before.recorded)
        : failure({ kind: 'another payload' });
    }
    const refused = await refusalOfSigner(tx, actor, payload);
    if (refused) return refused;
    const [place] = await tx.select().from(shed).where(eq(shed.id, unit.shedId));
    const values = measured.value;
    const readOn = localDay(readAt, place?.timeZone ?? 'UTC');
    const { problems, questions } = checkPayload(
      payload,
      values,
      readOn,
      contextOf((await readingsOfUnits(tx, [unit.id])).get(unit.id) ?? [], {
        elevation: place?.elevationM ?? 0,
        expectedIdleSle: await levelOf(tx, unit.id),
      }),
    );
    if (problems.length > 0) return failure({ kind: 'problems', problems });
    if (questions.length > 0) return failure({ kind: 'questions', questions });
    const [row] = await tx
      .insert(reading)
      .values({
        id: payload.id,
        unitId: unit.id,
        shedId: unit.shedId,
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
        payloadVersion: payload.version,
        payloadDigest: digest,
      })
      .returning();
    if (!row) throw new Error('the reading was not stored');
    await appendToLedger(tx, {
      kind: 'reading recorded',
      actor,
      now,
      deviceAt: readAt,
      unitId: unit.id,
      payload: { reading: payload, digest },
    });
    await proveOrders(tx, { row, elevation: place?.elevationM ?? 0, actor, now });
    await settleLateReading(tx, { row, actor, now });
    await noteDriving(tx, {
      unitId: unit.id,
      odometer: row.odometerKm,
      seenBy: 'reading',
      actor,
      now,
    });
    const stored = await judgeUnit(tx, {
      unitId: unit.id,
      actor,
      now,
      because: 'reading recorded',
    });
    return success({
      readingId: payload.id,
      entry: row.entry,
      verdict: stored,
      wasOnRecord: false,
    });
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

async function onRecord(
  tx: Tx,
  id: string,
): Promise<{ readonly digest: string; readonly recorded: Recorded | null } | null> {
  const [row] = await tx
    .select({ digest: reading.payloadDigest, entry: reading.entry, unitId: reading.unitId })
    .from(reading)
    .where(eq(reading.id, id));
  if (!row) return null;
  const stored = await tx.query.verdict.findFirst({
    where: (table, { and, eq: equals }) =>
      and(equals(table.unitId, row.unitId), equals(table.isCurrent, true)),
  });
  return {
    digest: row.digest,
    recorded: stored
      ? { readingId: id, entry: row.entry, verdict: stored, wasOnRecord: true }
      : null,
  };
}
