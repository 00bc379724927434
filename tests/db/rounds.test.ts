import pg from 'pg';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { roundsByQueue, roundsByTimer } from '@/db/rounds';
import { hasTestServer, openTestServer } from '../support/databases';

const wait = (ms: number) => new Promise((resolve) => setTimeout(resolve, ms));
/** A third of a day: seldom does a span of it end while the test runs. */
const everyS = 30_000;
let open: Awaited<ReturnType<typeof openTestServer>>;

async function ask<Row>(statement: string): Promise<Row[]> {
  const client = new pg.Client({ connectionString: open.url });
  await client.connect();
  const { rows } = await client.query(statement).finally(() => client.end());
  return rows as Row[];
}

describe.skipIf(!hasTestServer)('rounds of several instances on one server', () => {
  beforeAll(async () => {
    open = await openTestServer();
  });
  afterAll(() => open.close());

  it('run once between them, and again where the first try failed', async () => {
    const runs: string[] = [];
    let mustFail = true;
    const rounds = (instance: number) => [
      { name: 'plain', run: async () => void runs.push(`plain by ${instance}`) },
      {
        name: 'fails-first',
        run: async () => {
          runs.push('fails-first');
          if (mustFail) {
            mustFail = false;
            throw new Error('on purpose');
          }
        },
      },
    ];
    const instances = await Promise.all(
      [1, 2, 3].map((instance) =>
        roundsByQueue(open.url, {
          everyS,
          retryDelayS: 1,
          firstAfterMs: 0,
          rounds: rounds(instance),
        }),
      ),
    );
    await expect.poll(() => runs.length, { timeout: 30_000 }).toBe(3);
    await wait(3_000);
    await Promise.all(instances.map((stop) => stop()));
    expect(runs.filter((run) => run.startsWith('plain'))).toHaveLength(1);
    expect(runs.filter((run) => run === 'fails-first')).toHaveLength(2);
  });

  it('are kept in a schema of the owner, which the product role cannot touch', async () => {
    const [schema] = await ask<{ owner: string; isOpen: boolean }>(
      `select pg_get_userbyid(nspowner) = current_user as "isOwner",
        has_schema_privilege('idlemark_app', oid, 'usage') as "isOpen"
        from pg_namespace where nspname = 'idlemark_jobs'`,
    );
    expect(schema).toEqual({ isOwner: true, isOpen: false });
    expect(
      await ask(`select 1 from pg_tables where schemaname = 'public' and tablename = 'job'`),
    ).toEqual([]);
  });
});

it('rounds by timer go on past one that fails', async () => {
  const runs: string[] = [];
  const stop = roundsByTimer({
    everyS: 3_600,
    firstAfterMs: 0,
    rounds: [
      { name: 'fails', run: () => Promise.reject(new Error('on purpose')) },
      { name: 'after', run: async () => void runs.push('after') },
    ],
  });
  await expect.poll(() => runs).toEqual(['after']);
  stop();
});
