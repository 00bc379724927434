import { and, eq, isNull } from 'drizzle-orm';
import { expect, it } from 'vitest';
import type { Db } from '@/db/client';
import { settleLateReading } from '@/db/record/settle-late-reading';
import { reading, spell } from '@/db/schema';
import { acknowledgeEvidence } from '@/db/writes/acknowledge-evidence';
import { certifyRepair } from '@/db/writes/certify-repair';
import { releaseUnit } from '@/db/writes/release-unit';
import { standDown } from '@/db/writes/stand-down';
import { toKilopascals } from '@/lib/measure';
import { onEachDatabase } from '../support/databases';
import { makeFixture, putFinishedOrder, putReading } from '../support/tarn-fixture';

const start = Date.UTC(2026, 0, 5, 15);
const at = (hours: number) => new Date(start + hours * 3_600_000);

/** A unit that went out at hour 0, was repaired at 10 and released at 20. */
async function releasedUnit(db: Db) {
  const fixture = await makeFixture(db);
  const [unitId] = fixture.unitIds as [string];
  const certifier = await fixture.person('technician');
  const reader = await fixture.person('technician');
  const officer = await fixture.person('safety officer');
  const stood = await standDown(db, {
    actor: officer,
    unitId,
    cause: 'other',
    note: null,
    now: at(0),
  });
  const spellId = stood.ok ? stood.value.spellId : '';
  await putFinishedOrder(db, { unitId, by: certifier.personId, finishedAt: at(10) });
  const where = { unitId, shedId: fixture.shedId, by: reader.personId };
  await putReading(db, { ...where, on: at(12) });
  await certifyRepair(db, {
    actor: certifier,
    unitId,
    kind: 'repaired',
    note: 'pump',
    now: at(11),
  });
  await releaseUnit(db, {
    actor: officer,
    unitId,
    spellId,
    whatWasChecked: 'all',
    signedInAgainAt: at(20),
    now: at(20),
  });
  const late = async (hours: number, idlePsi: number) => {
    const id = await putReading(
      db,
      { ...where, on: at(hours) },
      { receivedAt: at(30), idleVacuumKpa: toKilopascals(idlePsi, 'psi'), lowestKpa: null },
    );
    const [row] = await db.select().from(reading).where(eq(reading.id, id));
    if (!row) throw new Error('not stored');
    await db.transaction((tx) => settleLateReading(tx, { row, actor: reader, now: at(30) }));
    return id;
  };
  const openNow = () =>
    db
      .select()
      .from(spell)
      .where(and(eq(spell.unitId, unitId), isNull(spell.releasedAt)));
  return { unitId, spellId, where, reader, officer, late, openNow };
}

onEachDatabase('late readings', (db) => {
  it('a late stop read before the repair joins the ended spell, to be acknowledged', async () => {
    const { spellId, officer, late, openNow } = await releasedUnit(db());
    const readingId = await late(5, 5);
    expect(await openNow()).toEqual([]);
    const evidence = async () =>
      (await db().select().from(spell).where(eq(spell.id, spellId)))[0]?.evidence;
    expect(await evidence()).toEqual([{ readingId, acknowledgedBy: null }]);
    const seen = { actor: officer, spellId, readingId, now: at(31) };
    expect(await acknowledgeEvidence(db(), seen)).toMatchObject({ ok: true });
    expect(await evidence()).toEqual([{ readingId, acknowledgedBy: officer.personId }]);
  });

  it('a late stop read after the repair opens a spell; a late sound reading does nothing', async () => {
    const { late, openNow } = await releasedUnit(db());
    await late(15, 13);
    expect(await openNow()).toEqual([]);
    const readingId = await late(16, 5);
    expect(await openNow()).toMatchObject([{ readingId, cause: 'reading past a stop limit' }]);
  });
});
