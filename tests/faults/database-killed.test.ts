import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type OpenDatabase, openDatabase } from '@/db/client';
import { checkLedger } from '@/db/ledger';
import { reading } from '@/db/schema';
import { recordReading } from '@/db/writes/record-reading';
import type { Actor } from '@/lib/access';
import { postgresPrograms, startCluster } from '../support/postgres-cluster.mjs';
import { soundPayload } from '../support/sound-payload';
import { type Fixture, makeFixture } from '../support/tarn-fixture';
import { atScale, found } from './scale';

const rounds = atScale(4, 200);
const writers = 8;
const now = new Date('2026-06-01T15:00:00Z');
const isHere = postgresPrograms() !== null;
if (!isHere)
  console.warn('kill -9 of PostgreSQL: not run, since no PostgreSQL server is installed');

describe.skipIf(!isHere)('PostgreSQL killed while it writes', () => {
  let cluster: Awaited<ReturnType<typeof startCluster>>;
  let open: OpenDatabase;
  let fixture: Fixture;
  let actor: Actor;

  beforeAll(async () => {
    cluster = await startCluster();
    open = await openDatabase({ url: cluster.url });
    fixture = await makeFixture(open.db, writers);
    actor = await fixture.person('technician');
  });
  afterAll(async () => {
    await open?.close();
    await cluster?.stop();
  });

  it(`${rounds} times: what was acknowledged is there, what was not can be sent again`, {
    timeout: rounds * 30_000,
  }, async () => {
    const acknowledged: string[] = [];
    const sent: string[] = [];
    let step = 0;
    for (let round = 0; round < rounds; round++) {
      let isDown = false;
      const write = async (unitId: string) => {
        const unanswered = [];
        while (!isDown) {
          const payload = soundPayload(unitId, actor.personId, step++ % 100);
          sent.push(payload.id);
          const answer = await recordReading(open.db, { actor, payload, now }).catch(() => null);
          if (answer?.ok) acknowledged.push(payload.id);
          else if (answer) throw new Error(JSON.stringify(answer.error));
          else unanswered.push(payload);
        }
        return unanswered;
      };
      const work = fixture.unitIds.map(write);
      const writtenBefore = acknowledged.length;
      const written = () => acknowledged.length - writtenBefore;
      try {
        await expect.poll(written, { timeout: 60_000 }).toBeGreaterThanOrEqual(writers);
        await new Promise((resolve) => setTimeout(resolve, (37 * round) % 400));
      } finally {
        // Also where too little was written: nothing else would end the writers.
        isDown = true;
      }
      cluster.kill();
      const unanswered = (await Promise.all(work)).flat();
      await cluster.start();
      for (const payload of unanswered) {
        const again = await recordReading(open.db, { actor, payload, now });
        expect(again.ok).toBe(true);
        acknowledged.push(payload.id);
      }
    }
    const stored = (await open.db.select({ id: reading.id }).from(reading)).map(({ id }) => id);
    expect(acknowledged.length).toBeGreaterThanOrEqual(rounds * writers);
    expect(new Set(acknowledged)).toEqual(new Set(sent));
    expect(stored.toSorted()).toEqual(sent.toSorted());
    expect((await checkLedger(open.db)).faults).toEqual([]);
    found(
      'kill -9 of PostgreSQL, mid-write',
      `${rounds} rounds, ${acknowledged.length} acknowledged, 0 lost, 0 doubled`,
    );
  });
});
