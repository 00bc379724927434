import { eq } from 'drizzle-orm';
import pg from 'pg';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type OpenDatabase, openDatabase } from '@/db/client';
import { checkLedger } from '@/db/ledger';
import { reading } from '@/db/schema';
import { isOutOfReach } from '@/db/transaction';
import { recordReading } from '@/db/writes/record-reading';
import { openTestServer } from '../support/databases';
import { soundPayload } from '../support/sound-payload';
import { makeFixture } from '../support/tarn-fixture';
import { found } from './scale';

const isHere = process.env.TEST_DATABASE_URL !== undefined;
if (!isHere) console.warn('slow databases: not run, since TEST_DATABASE_URL is not set');
const now = new Date('2026-02-01T15:00:00Z');
const wait = 2_000;

describe.skipIf(!isHere)('a database that does not answer in time', () => {
  let server: Awaited<ReturnType<typeof openTestServer>>;
  let product: OpenDatabase;
  beforeAll(async () => {
    server = await openTestServer();
    product = await openDatabase({
      url: server.url,
      poolSize: 2,
      connectionWait: wait,
      statementWait: wait,
    });
  });
  afterAll(async () => {
    await product?.close();
    await server?.close();
  });

  /** Tries a write while `blocked` lasts, then again after it: fails clearly, stores nothing, recovers. */
  async function tryWhile(block: (unitId: string) => Promise<() => Promise<void>>) {
    const fixture = await makeFixture(server.db);
    const actor = await fixture.person('technician');
    const unitId = fixture.unitIds[0] ?? '';
    const payload = soundPayload(unitId, actor.personId);
    const record = () => recordReading(product.db, { actor, payload, now });
    const stored = () => server.db.$count(reading, eq(reading.id, payload.id));

    const release = await block(unitId);
    const since = performance.now();
    const refusal = await record().then(
      () => null,
      (error) => error,
    );
    const failedAfter = performance.now() - since;
    expect(isOutOfReach(refusal)).toBe(true);
    expect(failedAfter).toBeLessThan(5 * wait);
    expect(await stored()).toBe(0);

    await release();
    const freed = performance.now();
    expect((await record()).ok).toBe(true);
    const recoveredAfter = performance.now() - freed;
    expect(recoveredAfter).toBeLessThan(30_000);
    expect(await stored()).toBe(1);
    expect((await checkLedger(server.db)).faults).toEqual([]);
    return `failed clearly after ${(failedAfter / 1000).toFixed(1)} s of ${wait / 1000} s allowed, 0 rows, recovered in ${Math.round(recoveredAfter)} ms`;
  }

  it('whose connections are all taken', async () => {
    const figures = await tryWhile(async () => {
      const busy = [1, 2].map(() =>
        product.db
          .transaction(async (tx) => {
            await tx.execute('set local statement_timeout = 0');
            await tx.execute('select pg_sleep(60)');
          })
          .catch(() => null),
      );
      await expect
        .poll(
          async () => {
            const client = new pg.Client({ connectionString: server.url });
            await client.connect();
            const { rows } = await client
              .query(
                `select count(*)::int as n from pg_stat_activity where query like '%pg_sleep%' and pid <> pg_backend_pid()`,
              )
              .finally(() => client.end());
            return rows[0].n;
          },
          { timeout: 10_000 },
        )
        .toBe(2);
      return async () => {
        const client = new pg.Client({ connectionString: server.url });
        await client.connect();
        await client
          .query(
            `select pg_terminate_backend(pid) from pg_stat_activity where query like '%pg_sleep%' and pid <> pg_backend_pid()`,
          )
          .finally(() => client.end());
        await Promise.all(busy);
      };
    });
    found('Pool starved', figures);
  });

  it('whose unit another session holds', async () => {
    const figures = await tryWhile(async (unitId) => {
      const client = new pg.Client({ connectionString: server.url });
      await client.connect();
      await client.query('begin');
      await client.query('select id from unit where id = $1 for update', [unitId]);
      return () => client.end();
    });
    found('Slow query', figures);
  });

  it('that cannot begin a transaction has the connection given back each time', async () => {
    const unknown = { isolationLevel: 'no such level' } as unknown as {
      isolationLevel: 'serializable';
    };
    for (let time = 0; time < 3; time++) {
      await expect(product.db.transaction(async () => 'begun', unknown)).rejects.toThrow();
    }
    expect(await product.db.transaction(async () => 'begun')).toBe('begun');
  });
});
