import { type ChildProcess, execFileSync, spawn } from 'node:child_process';
import { randomUUID } from 'node:crypto';
import { mkdtempSync, openSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import pg from 'pg';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { createTestDatabase, hasTestServer } from '../../support/databases';
import { freePort } from '../../support/free-port.mjs';
import { type RoundRobin, roundRobin } from '../../support/round-robin';
import { signedInAs, Visitor } from '../../support/visitor';

interface Instance {
  readonly origin: string;
  readonly port: number;
  readonly server: ChildProcess;
  readonly logFile: string;
}

const folder = mkdtempSync(join(tmpdir(), 'idlemark-three-'));
const within = { timeout: 60_000, interval: 250 };
let place: Awaited<ReturnType<typeof createTestDatabase>>;
let proxy: RoundRobin;
let database: pg.Client;
let instances: Instance[];
let env: NodeJS.ProcessEnv;

async function start(name: string): Promise<Instance> {
  const port = await freePort();
  const logFile = join(folder, `${name}.log`);
  const server = spawn(
    process.execPath,
    ['node_modules/next/dist/bin/next', 'start', '-H', '127.0.0.1', '-p', String(port)],
    {
      env: { ...env, PORT: String(port) },
      stdio: ['ignore', openSync(logFile, 'a'), 'inherit'],
    },
  );
  return { origin: `http://127.0.0.1:${port}`, port, server, logFile };
}

const isReady = async ({ origin }: Instance): Promise<boolean> =>
  (await fetch(`${origin}/health/ready`).catch(() => null))?.ok ?? false;

async function kill({ server }: Instance): Promise<void> {
  server.kill('SIGKILL');
  await new Promise((resolve) => server.once('exit', resolve));
}

async function onlyThrough({ port }: Instance): Promise<Visitor> {
  proxy.ports.splice(0, proxy.ports.length, port);
  return signedInAs(proxy.origin, 'ines');
}

async function ask<Row extends pg.QueryResultRow>(statement: string, ...values: unknown[]) {
  return (await database.query<Row>(statement, values)).rows;
}

describe.skipIf(!hasTestServer)('three instances behind a proxy', () => {
  beforeAll(async () => {
    place = await createTestDatabase({ hasOwner: true });
    proxy = await roundRobin();
    env = {
      ...process.env,
      NODE_ENV: 'production',
      DATABASE_URL: place.url,
      IDLEMARK_DEMO: '1',
      IDLEMARK_HEADS: join(folder, 'heads'),
      IDLEMARK_ORIGIN: proxy.origin,
      IDLEMARK_SECRET: randomUUID(),
      NEXT_MANUAL_SIG_HANDLE: 'true',
    };
    database = new pg.Client({ connectionString: place.url });
    await database.connect();
    instances = await Promise.all(['a', 'b', 'c'].map(start));
    proxy.ports.push(...instances.map(({ port }) => port));
  });

  afterAll(async () => {
    for (const { server } of instances) {
      if (server.exitCode !== null || server.signalCode !== null) continue;
      server.kill('SIGTERM');
      await new Promise((resolve) => server.once('exit', resolve));
    }
    await proxy.stop();
    await database.end();
    await place.drop();
    rmSync(folder, { recursive: true });
  });

  it('bring one empty database up to date between them, and are all ready', async () => {
    for (const instance of instances) {
      await expect.poll(() => isReady(instance), within).toBe(true);
    }
    const journal = JSON.parse(readFileSync('db/migrations/meta/_journal.json', 'utf8'));
    const [applied] = await ask<{ count: number }>(
      'select count(*)::int as count from drizzle.__drizzle_migrations',
    );
    expect(applied?.count).toBe(journal.entries.length);
    execFileSync('npm', ['run', '--silent', 'seed', '--', '--units', '20'], { env });
  });

  it('run the sweep and keep the head once between them', async () => {
    const jobs = () =>
      ask<{ name: string; jobs: number; spans: number }>(
        `select name, count(*)::int as jobs, count(distinct singleton_on)::int as spans
         from idlemark_jobs.job where state = 'completed' and name in ('sweep', 'ledger-head')
         group by name order by name`,
      );
    await expect.poll(async () => (await jobs()).length, within).toBe(2);
    for (const { jobs: count, spans } of await jobs()) expect(count).toBe(spans);
    const swept = instances.flatMap(({ logFile }) =>
      readFileSync(logFile, 'utf8')
        .split('\n')
        .filter((line) => line.includes('"msg":"sweep"')),
    );
    expect(swept).toHaveLength((await jobs()).find(({ name }) => name === 'sweep')?.jobs ?? 0);
  });

  it('know a session that one of them began', async () => {
    const manager = await signedInAs(proxy.origin, 'ines');
    for (const { origin } of instances) {
      const visitor = new Visitor(origin);
      for (const [name, value] of manager.cookies) visitor.cookies.set(name, value);
      expect((await visitor.get('/api/v1/units')).status).toBe(200);
    }
  });

  it('finish an import that two of them were killed in, one checking and one putting it on record', async () => {
    const rowCount = 15_000;
    const columns = ['unit', 'order', 'why', 'tasks', 'raised_on', 'finished_on', 'finished_by'];
    const unitIds = (await ask<{ id: string }>('select id from unit order by id')).map(
      ({ id }) => id,
    );
    const rows = Array.from(
      { length: rowCount },
      (_, k) =>
        `${unitIds[k % unitIds.length]},K${k},Kept on paper,pump,2025-03-03,2025-03-04,tal@tarn.example`,
    );
    const bytes = Buffer.from(`${columns}\n${rows.join('\n')}\n`);
    const importId = randomUUID();
    await ask(
      `insert into import_run (id, kind, file_name, byte_count, state, made_by, made_at, progress_at)
       values ($1, 'work orders', 'orders.csv', $2, 'sending', 'ines', now(), now())`,
      importId,
      bytes.length,
    );
    await ask('insert into import_piece values ($1, 0, $2)', importId, bytes);
    const run = async () =>
      (
        await ask<{ state: string; rows_read: number }>(
          'select state, rows_read from import_run where id = $1',
          importId,
        )
      )[0];
    const onRecord = async () =>
      (
        await ask<{ orders: number; entries: number }>(
          `select (select count(*) from work_order where why like 'Kept on paper%')::int as orders,
             (select count(*) from ledger_entry where kind = 'rows imported')::int as entries`,
        )
      )[0];
    const [first, second, third] = instances;
    if (!first || !second || !third) throw new Error('three instances were started');
    const choices = Object.fromEntries(columns.map((name) => [`column-${name}`, name]));
    const check = (visitor: Visitor) =>
      visitor.fill(`/imports/${importId}`, 'name="decimal"', {
        ...choices,
        decimal: 'point',
        encoding: 'utf-8',
      });
    const apply = (visitor: Visitor) =>
      visitor.fill(`/imports/${importId}`, 'value="apply"', { act: 'apply' });

    const manager = await onlyThrough(first);
    await check(manager);
    await expect
      .poll(async () => (await run())?.rows_read, { ...within, interval: 10 })
      .not.toBe(0);
    await kill(first);
    expect(await run()).toMatchObject({ state: 'checking' });
    expect(await onRecord()).toEqual({ orders: 0, entries: 0 });

    // A minute of silence, which a check must keep before another may begin it again.
    await ask(
      `update import_run set progress_at = now() - interval '2 minutes' where id = $1`,
      importId,
    );
    await check(await onlyThrough(second));
    await expect.poll(async () => (await run())?.state, within).toBe('checked');

    // The ledger's lock, held here, stops the import between its rows and its entry.
    const holder = await onlyThrough(second);
    await ask('begin');
    await ask('lock table ledger_entry in share mode');
    const lost = apply(holder);
    await expect
      .poll(
        async () =>
          ask(`select 1 from pg_locks where relation = 'ledger_entry'::regclass and not granted`),
        within,
      )
      .toHaveLength(1);
    await kill(second);
    await lost;
    await ask('rollback');
    await expect
      .poll(
        () =>
          ask(
            `select 1 from pg_stat_activity where datname = current_database() and pid <> pg_backend_pid() and xact_start is not null`,
          ),
        within,
      )
      .toEqual([]);
    expect(await run()).toMatchObject({ state: 'checked' });
    expect(await onRecord()).toEqual({ orders: 0, entries: 0 });

    await apply(await onlyThrough(third));
    await expect.poll(onRecord, within).toEqual({ orders: rowCount, entries: 1 });
  });
});
