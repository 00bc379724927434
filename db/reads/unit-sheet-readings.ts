import { and, asc, desc, eq } from 'drizzle-orm';
import { ambientOf } from '@/lib/analysis/normalise';
import type { Reading } from '@/lib/analysis/reading';
import { seaLevelEquivalent } from '@/lib/atmosphere';
import type { TraceOfReading } from '@/lib/intake/reading-payload';
import type { Kilopascals } from '@/lib/measure';
import type { Db, Tx } from '../client';
import { amendment, type Keyed, linePhoto, person, reading, shed } from '../schema';
import { readingOfRow } from './readings-of-units';

export interface SheetReading {
  /** As it counts, approved amendments applied. */
  readonly counts: Reading;
  /** As first recorded. */
  readonly first: Reading;
  readonly readAt: Date;
  readonly receivedAt: Date;
  readonly technicianId: string | null;
  readonly timeZone: string;
  readonly ambient: Kilopascals;
  readonly idleSle: Kilopascals | null;
  readonly firstIdleSle: Kilopascals | null;
  readonly lowestSle: Kilopascals | null;
  readonly by: string;
  readonly isProof: boolean;
  readonly isAmended: boolean;
  /** Reasons of amendments that wait for their second person. */
  readonly asked: readonly string[];
  readonly note: string | null;
  /** Figures with their units of measure, as the person keyed them. */
  readonly keyed: Keyed;
  /** What a logging gauge's trace told; null where a person read the needle. */
  readonly trace: TraceOfReading | null;
  readonly hasPhoto: boolean;
}

/** Every reading of a unit, newest first, each with the values first recorded. The caller has asked who may see them. */
export async function unitSheetReadings(db: Db | Tx, unitId: string): Promise<SheetReading[]> {
  const rows = await db
    .select({
      reading,
      elevation: shed.elevationM,
      timeZone: shed.timeZone,
      badge: person.badge,
      photoOf: linePhoto.readingId,
    })
    .from(reading)
    .innerJoin(shed, eq(shed.id, reading.shedId))
    .leftJoin(linePhoto, eq(linePhoto.readingId, reading.id))
    .leftJoin(person, eq(person.id, reading.technicianId))
    .where(eq(reading.unitId, unitId))
    .orderBy(desc(reading.readOn), desc(reading.entry));
  const changes = await db
    .select({
      readingId: amendment.readingId,
      after: amendment.after,
      state: amendment.state,
      reason: amendment.reason,
    })
    .from(amendment)
    .innerJoin(reading, and(eq(reading.id, amendment.readingId), eq(reading.unitId, unitId)))
    .orderBy(asc(amendment.decidedAt));
  return rows.map(({ reading: row, elevation, timeZone, badge, photoOf }) => {
    const own = changes.filter(({ readingId }) => readingId === row.id);
    const approved = own.filter(({ state }) => state === 'approved');
    const counts = readingOfRow(row, Object.assign({}, ...approved.map(({ after }) => after)));
    const first = readingOfRow(row);
    const ambient = ambientOf(counts.barometer, elevation);
    const sle = (value: Kilopascals | null, at = ambient) =>
      value === null ? null : seaLevelEquivalent(value, at);
    return {
      counts,
      first,
      readAt: row.readAt,
      receivedAt: row.receivedAt,
      technicianId: row.technicianId,
      timeZone,
      ambient,
      idleSle: sle(counts.idle),
      firstIdleSle: sle(first.idle, ambientOf(first.barometer, elevation)),
      lowestSle: sle(counts.lowest),
      by: badge ?? row.technicianLabel ?? '',
      isProof: row.isProof,
      isAmended: approved.length > 0,
      asked: own.filter(({ state }) => state === 'asked').map(({ reason }) => reason),
      note: row.note,
      keyed: row.keyed,
      trace: row.trace,
      hasPhoto: photoOf !== null,
    };
  });
}
