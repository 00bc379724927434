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
import { appendToLedger, holdingLedger, sha256 } from '../ledger';
import { readingsOfUnits } from '../reads/readings-of-units';
import { followReading } from '../record/follow-reading';
import type { StoredVerdict } from '../record/judge-unit';
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

interface UnderWay {
  /** Who sends what. */
  readonly sent: string;
  readonly answer: Promise<Result<Recorded, RecordFailure>>;
}

/** Readings that this process is recording, by id: a device that hears no answer sends its reading again. */
const underWay = new Map<string, UnderWay>();

/**
 * Records one reading, judges the unit and leaves the ledger entry, all or nothing. The same one sent
 * again meanwhile takes the answer of the first; sent by somebody else it waits, without a connection.
 */
export async function recordReading(
  db: Db,
  asked: RecordReading,
): Promise<Result<Recorded, RecordFailure>> {
  const { id } = asked.payload;
  const digest = sha256(canonicalJson(asked.payload));
  const sent = `${asked.actor.personId} ${digest}`;
  for (let first = underWay.get(id); first; first = underWay.get(id)) {
    if (first.sent === sent) {
      const answer = await first.answer;
      return answer.ok ? success({ ...answer.value, wasOnRecord: true }) : answer;
    }
    await first.answer.catch(() => {});
  }
  const answer = record(db, asked, digest);
  underWay.set(id, { sent, answer });
  try {
    return await answer;
  } finally {
    underWay.delete(id);
  }
}

async function record(
  db: Db,
  { actor, payload, now, deviceNow = null }: RecordReading,
  digest: string,
): Promise<Result<Recorded, RecordFailure>> {
  const measured = measuredValues(payload.keyed);
  if (!measured.ok) return failure({ kind: 'problems', problems: measured.error });
  const readAt = new Date(payload.readAt);
  if (readAt.getTime() - now.getTime() > clockAheadAllowedMs) {
    return refuse('readAt', 'The reading is dated in the future.', 'Set the clock of the device.');
  }
  const known = await onRecord(db, payload, digest, actor);
  if (known) return known;

  return inTransaction(db, async (tx): Promise<Result<Recorded, RecordFailure>> => {
    const [found] = await tx
      .select({ locked: unit, place: shed })
      .from(unit)
      .innerJoin(shed, eq(shed.id, unit.shedId))
      .where(eq(unit.id, payload.unitId))
      .for('no key update', { of: unit });
    if (!found) return failure({ kind: 'unknown unit' });
    const { locked, place } = found;
    requirePermission(actor, 'record a reading', locked.shedId);
    const history = (await readingsOfUnits(tx, [locked.id])).get(locked.id) ?? [];
    const isOnRecord = history.some(({ id }) => id === payload.id);
    const meanwhile = isOnRecord ? await onRecord(tx, payload, digest, actor) : null;
    if (meanwhile) return meanwhile;
    const refused = await refusalOfSigner(tx, actor, payload);
    if (refused) return refused;
    const values = measured.value;
    const readOn = localDay(readAt, place.timeZone);
    const { problems, questions } = checkPayload(
      payload,
      values,
      readOn,
      contextOf(history, {
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
      .onConflictDoNothing({ target: reading.id })
      .returning();
    if (!row) return failure({ kind: 'another payload' });
    const stored = await holdingLedger(tx, async () => {
      await appendToLedger(tx, {
        kind: 'reading recorded',
        actor,
        now,
        deviceAt: readAt,
        unitId: locked.id,
        payload: { reading: payload, digest },
      });
      return followReading(tx, { row, elevation: place.elevationM, actor, now });
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
