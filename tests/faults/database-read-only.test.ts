import { eq } from 'drizzle-orm';
import pg from 'pg';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { checkLedger } from '@/db/ledger';
import { reading } from '@/db/schema';
import { isOutOfReach, sqlState } from '@/db/transaction';
import { recordReading } from '@/db/writes/record-reading';
import { openTestServer } from '../support/databases';
import { soundPayload } from '../support/sound-payload';
import { makeFixture } from '../support/tarn-fixture';

const isHere = process.env.TEST_DATABASE_URL !== undefined;
if (!isHere) console.warn('a read-only database: not run, since TEST_DATABASE_URL is not set');
const now = new Date('2026-02-01T15:00:00Z');

describe.skipIf(!isHere)('a database that takes no writes', () => {
  let open: Awaited<ReturnType<typeof openTestServer>>;
  beforeAll(async () => {
    open = await openTestServer();
  });
  afterAll(() => open?.close());

  /** Sets the whole database read-only or not, and ends its sessions so that it holds at once. */
  async function setReadOnly(isReadOnly: boolean): Promise<void> {
    const client = new pg.Client({ connectionString: open.url });
    await client.connect();
    try {
      const name = new URL(open.url).pathname.slice(1);
      await client.query('set default_transaction_read_only = off');
      await client.query(
        `alter database ${name} set default_transaction_read_only = ${isReadOnly}`,
      );
      await client.query(
        `select pg_terminate_backend(pid) from pg_stat_activity
         where datname = $1 and pid <> pg_backend_pid()`,
        [name],
      );
    } finally {
      await client.end();
    }
  }

  it('says so, stores nothing, still reads, and takes up again unaided', async () => {
    const fixture = await makeFixture(open.db);
    const actor = await fixture.person('technician');
    const payload = soundPayload(fixture.unitIds[0] ?? '', actor.personId);
    const record = () => recordReading(open.db, { actor, payload, now });
    const stored = () => open.db.$count(reading, eq(reading.id, payload.id));

    // Sent again as a device does: the first try may still meet a connection whose session was ended.
    await setReadOnly(true);
    // PostgreSQL's class 25, invalid transaction state: 25006, read_only_sql_transaction.
    await expect.poll(() => record().catch(sqlState), { timeout: 30_000 }).toBe('25006');
    expect(await stored()).toBe(0);

    await setReadOnly(false);
    const isRecorded = async () => {
      try {
        return (await record()).ok;
      } catch (error) {
        expect(isOutOfReach(error), String(error)).toBe(true);
        return false;
      }
    };
    await expect.poll(isRecorded, { timeout: 30_000 }).toBe(true);
    expect(await stored()).toBe(1);
    expect((await checkLedger(open.db)).faults).toEqual([]);
  });
});
