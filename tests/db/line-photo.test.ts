import { count, eq } from 'drizzle-orm';
import { expect, it } from 'vitest';
import { linePhotoOf } from '@/db/reads/line-photo-of';
import { unitSheetReadings } from '@/db/reads/unit-sheet-readings';
import { ledgerEntry } from '@/db/schema';
import { keepLinePhoto } from '@/db/writes/keep-line-photo';
import { recordReading } from '@/db/writes/record-reading';
import { AccessDenied } from '@/lib/access';
import { onEachDatabase } from '../support/databases';
import { soundPayload } from '../support/sound-payload';
import { makeFixture } from '../support/tarn-fixture';

const now = new Date('2026-01-05T16:00:00Z');
const picture = (shade: number) => Uint8Array.of(0xff, 0xd8, 0xff, shade, 0xff, 0xd9);

onEachDatabase('a picture of the line', (db) => {
  it('is kept once with its reading, is on the ledger, and is seen by who may see the unit', async () => {
    const fixture = await makeFixture(db());
    const [unitId] = fixture.unitIds as [string];
    const actor = await fixture.person('technician');
    const payload = soundPayload(unitId, actor.personId);
    const keep = (content: Uint8Array, readingId = payload.id, by = actor) =>
      keepLinePhoto(db(), { actor: by, readingId, content, now });
    expect(await keep(picture(1))).toMatchObject({ ok: false, error: { kind: 'unknown' } });
    await recordReading(db(), { actor, payload, now });
    expect((await unitSheetReadings(db(), unitId))[0]?.hasPhoto).toBe(false);
    const [first, again] = await Promise.all([keep(picture(1)), keep(picture(1))]);
    expect([first.ok, again.ok]).toEqual([true, true]);
    expect(await keep(picture(2))).toMatchObject({ ok: false, error: { kind: 'another' } });
    expect(await keep(Uint8Array.of(1))).toMatchObject({ ok: false, error: { kind: 'unfit' } });
    expect((await unitSheetReadings(db(), unitId))[0]?.hasPhoto).toBe(true);
    expect([...((await linePhotoOf(db(), actor, payload.id)) ?? [])]).toEqual([...picture(1)]);
    const [entries] = await db()
      .select({ n: count() })
      .from(ledgerEntry)
      .where(eq(ledgerEntry.kind, 'line photo kept'));
    expect(entries?.n).toBe(1);
    const elsewhere = await (await makeFixture(db())).person('technician');
    expect(await linePhotoOf(db(), elsewhere, payload.id)).toBeNull();
    await expect(keep(picture(1), payload.id, elsewhere)).rejects.toThrow(AccessDenied);
  });
});
