import { eq } from 'drizzle-orm';
import { expect, it } from 'vitest';
import type { Db } from '@/db/client';
import { openSpells } from '@/db/reads/open-spells';
import { judgeUnit } from '@/db/record/judge-unit';
import { bulletin, bulletinUnit } from '@/db/schema';
import { toKilopascals } from '@/lib/measure';
import { onEachDatabase } from '../support/databases';
import { makeFixture, putReading } from '../support/tarn-fixture';

const now = new Date('2026-01-05T18:00:00Z');

async function judgedUnit(db: Db, change: Parameters<typeof putReading>[2]) {
  const fixture = await makeFixture(db);
  const [unitId] = fixture.unitIds as [string];
  const technician = await fixture.person('technician');
  const officer = await fixture.person('safety officer');
  const where = { unitId, shedId: fixture.shedId, by: technician.personId };
  const readingId = await putReading(
    db,
    { ...where, on: new Date('2026-01-05T16:00:00Z') },
    change,
  );
  const judge = () =>
    db.transaction((tx) => judgeUnit(tx, { unitId, actor: officer, now, because: 'test' }));
  const board = () => openSpells(db, officer, unitId);
  return { unitId, officer, readingId, judge, board };
}

async function demand(db: Db, unitId: string, approvedBy: string | null): Promise<string> {
  const number = `B-${unitId}`;
  const [row] = await db
    .insert(bulletin)
    .values({
      number,
      issue: '1',
      title: 'Seal may let go',
      issuedOn: '2026-01-01',
      kind: 'do not drive until done',
      rule: {},
      conditions: 'none',
      actions: 'fit a pump',
      hours: 2,
      source: 'test',
      enteredAt: now,
      approvedBy,
      approvedAt: approvedBy === null ? null : now,
    })
    .returning({ id: bulletin.id });
  const bulletinId = row?.id ?? '';
  await db.insert(bulletinUnit).values({
    bulletinId,
    unitId,
    applicability: 'applies',
    why: 'built within',
    missing: [],
    status: 'open',
    statusAt: now,
  });
  return bulletinId;
}

onEachDatabase('the cause of a spell that a verdict opens', (db) => {
  it('is the reading past a stop limit', async () => {
    const { judge, board, readingId } = await judgedUnit(db(), {
      idleVacuumKpa: toKilopascals(5, 'psi'),
      lowestKpa: toKilopascals(4.5, 'psi'),
    });
    await judge();
    const [out] = await board();
    expect(out?.row).toMatchObject({
      cause: 'reading past a stop limit',
      readingId,
      bulletinId: null,
    });
    expect(out?.bulletinNumber).toBeNull();
    expect(out?.openingEntry).not.toBeNull();
  });

  it('is the bulletin that says not to drive, once it is approved', async () => {
    const { unitId, officer, judge, board } = await judgedUnit(db(), {});
    const bulletinId = await demand(db(), unitId, null);
    await judge();
    expect(await board()).toEqual([]);
    await db()
      .update(bulletin)
      .set({ approvedBy: officer.personId, approvedAt: now })
      .where(eq(bulletin.id, bulletinId));
    await judge();
    const [out] = await board();
    expect(out?.row).toMatchObject({
      cause: 'do-not-drive bulletin',
      bulletinId,
      readingId: null,
      openedBy: officer.personId,
    });
    expect(out?.bulletinNumber).toBe(`B-${unitId}`);
    expect(out?.blocks).toContainEqual(
      expect.objectContaining({ step: 'bulletin', what: `Bulletin B-${unitId} done` }),
    );
  });
});
