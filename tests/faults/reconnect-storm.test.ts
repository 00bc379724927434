import { count, countDistinct, inArray } from 'drizzle-orm';
import { expect, it } from 'vitest';
import { checkLedger } from '@/db/ledger';
import { ledgerEntry, reading } from '@/db/schema';
import { recordReading } from '@/db/writes/record-reading';
import { onEachDatabase } from '../support/databases';
import { soundPayload } from '../support/sound-payload';
import { makeFixture } from '../support/tarn-fixture';
import { atScale, found } from './scale';

const clients = atScale(40, 200);
const readingsEach = atScale(5, 20);
/** Twice by whoever signed it, once by whoever signed in to the shared tablet since. */
const sends = 3;
const now = new Date('2026-02-01T15:00:00Z');

onEachDatabase('a storm of reconnecting devices', (db, kind) => {
  it(`${clients} clients with ${readingsEach} readings, each sent ${sends} times at once, leave each once`, {
    timeout: clients * readingsEach * 600,
  }, async () => {
    const began = performance.now();
    const fixture = await makeFixture(db(), clients);
    const actor = await fixture.person('technician');
    const other = await fixture.person('technician');
    const outboxes = fixture.unitIds.map((unitId) =>
      Array.from({ length: readingsEach }, (_, step) => soundPayload(unitId, actor.personId, step)),
    );
    const answers = await Promise.all(
      outboxes.map(async (outbox) => {
        const heard = [];
        for (const payload of outbox) {
          const again = [actor, actor, other].map((sender) =>
            recordReading(db(), { actor: sender, payload, now }),
          );
          heard.push(...(await Promise.all(again)));
        }
        return heard;
      }),
    );
    const heard = answers.flat();
    expect(heard.filter(({ ok }) => !ok)).toEqual([]);
    expect(heard).toHaveLength(clients * readingsEach * sends);
    const fresh = heard.filter((one) => one.ok && !one.value.wasOnRecord);
    expect(fresh).toHaveLength(clients * readingsEach);
    const [stored] = await db()
      .select({ rows: count(), ids: countDistinct(reading.id) })
      .from(reading)
      .where(inArray(reading.unitId, [...fixture.unitIds]));
    expect(stored).toEqual({ rows: clients * readingsEach, ids: clients * readingsEach });
    const entries = await db().select({ kind: ledgerEntry.kind }).from(ledgerEntry);
    expect(entries.filter(({ kind }) => kind === 'reading recorded')).toHaveLength(
      clients * readingsEach,
    );
    const seconds = (performance.now() - began) / 1000;
    expect((await checkLedger(db())).faults).toEqual([]);
    found(
      `Reconnect storm, ${kind} database`,
      `${clients} clients, ${readingsEach} readings each, every one sent ${sends} times: exactly ${clients * readingsEach} on record, in ${seconds.toFixed(0)} s`,
    );
  });
});
