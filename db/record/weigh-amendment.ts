import { and, desc, eq, or } from 'drizzle-orm';
import { marks } from '@/lib/analysis/assessment';
import { checkPlausibility } from '@/lib/analysis/plausibility';
import { dayFromIso } from '@/lib/calendar';
import { gaugeUnitOf } from '@/lib/intake/payload-plausibility';
import type { ReadingPayload } from '@/lib/intake/reading-payload';
import type { Problem } from '@/lib/result';
import type { Tx } from '../client';
import { type AmendedValues, amendment, type reading, shed, spell } from '../schema';
import { assessOnRecord } from './judge-unit';

type Row = typeof reading.$inferSelect;

/** The values that an amendment replaces, earlier amendments applied. */
export async function valuesBefore(
  tx: Tx,
  found: Row,
  after: AmendedValues,
): Promise<AmendedValues> {
  const approved = await tx
    .select({ after: amendment.after })
    .from(amendment)
    .where(and(eq(amendment.readingId, found.id), eq(amendment.state, 'approved')))
    .orderBy(amendment.decidedAt);
  const current = { ...found, ...Object.assign({}, ...approved.map((one) => one.after)) };
  return Object.fromEntries(
    Object.keys(after).map((column) => [column, current[column as keyof AmendedValues]]),
  );
}

/** What cannot be true of the reading as amended. */
export async function implausibilities(
  tx: Tx,
  found: Row,
  after: AmendedValues,
  keyed: ReadingPayload['keyed'],
): Promise<readonly Problem[]> {
  const [place] = await tx.select().from(shed).where(eq(shed.id, found.shedId));
  const values = { ...found, ...after };
  return checkPlausibility(
    {
      readOn: dayFromIso(found.readOn) ?? 0,
      idle: values.idleVacuumKpa,
      raised: values.raisedVacuumKpa,
      lowest: values.lowestKpa,
      recovery: values.recoveryS,
      holdLoss: values.holdLossKpa,
      holdTime: values.holdTimeS,
      barometer: values.barometerKpa,
      odometer: values.odometerKm,
      keyedIn: gaugeUnitOf(keyed) ?? place?.pressureUnit ?? 'psi',
    },
    { elevation: place?.elevationM ?? 0, expectedIdleSle: null, lastOdometer: null },
  ).problems;
}

/** Why a safety officer must decide, found by trying the amendment and taking it back. */
export async function needsSafetyOfficer(
  tx: Tx,
  asked: typeof amendment.$inferSelect,
  unitId: string,
  now: Date,
): Promise<string[]> {
  const [touched] = await tx
    .select({ id: spell.id })
    .from(spell)
    .where(or(eq(spell.readingId, asked.readingId), eq(spell.proofReadingId, asked.readingId)))
    .orderBy(desc(spell.openedAt))
    .limit(1);
  const markNow = async () => (await assessOnRecord(tx, [unitId], now))[0]?.assessment.mark ?? null;
  const set = (state: 'approved' | 'asked') =>
    tx
      .update(amendment)
      .set({ state, decidedAt: state === 'approved' ? now : null })
      .where(eq(amendment.id, asked.id));
  const before = await markNow();
  await set('approved');
  const after = await markNow();
  await set('asked');
  const isBetter =
    before !== null && after !== null && marks.indexOf(after) > marks.indexOf(before);
  return [
    ...(touched ? ['The reading opened a spell or proved a release.'] : []),
    ...(isBetter ? [`It would change the mark from ${before} to ${after}.`] : []),
  ];
}
