// The views at 100,000 units of 40 readings each, on the PostgreSQL of TEST_DATABASE_URL. Writes what it
// finds into docs/deploy.md; takes some 15 minutes and 12 GB of disk:
// node tests/support/with-cluster.mjs npx tsx --conditions=react-server tests/bench/large-fleet.ts
import { execFileSync } from 'node:child_process';
import { readFileSync, writeFileSync } from 'node:fs';
import { cpus } from 'node:os';
import pg from 'pg';
import { createTestDatabase } from '../support/databases';
import { benchPages } from './pages';

const units = Number(process.argv[2] ?? 100_000);
const seeded = Math.ceil(units / 400);
const readingsOfUnit = 40;
const document = 'docs/deploy.md';
const marks = ['<!-- figures of the large fleet -->', '<!-- end of the figures -->'] as const;

function writeFigures(lines: readonly string[]): void {
  const text = readFileSync(document, 'utf8');
  const [from = -1, to = -1] = marks.map((mark) => text.indexOf(mark));
  if (from < 0 || to < from) throw new Error(`${document} has lost the marks of its figures`);
  const found = `${marks[0]}\n${lines.join('\n')}\n`;
  writeFileSync(document, text.slice(0, from) + found + text.slice(to));
}

/** A unit with fewer readings gets its own again, some years earlier, until there are enough. */
async function fillUp(url: string): Promise<void> {
  const client = new pg.Client({ connectionString: url });
  await client.connect();
  const { rows } = await client.query<{ name: string }>(
    `select quote_ident(column_name) as name from information_schema.columns
     where table_schema = 'public' and table_name = 'reading' and column_name <> 'entry'`,
  );
  const earlier: Readonly<Record<string, string>> = {
    id: "md5('earlier ' || id || years)::uuid",
    read_at: 'read_at - make_interval(years => years)',
    read_on: '(read_on - make_interval(years => years))::date',
  };
  const columns = rows.map(({ name }) => name);
  const values = columns.map((name) => earlier[name] ?? name);
  await client.query(
    `insert into reading (${columns.join(', ')}) select ${values.join(', ')} from (
       select reading.*, years, row_number() over (partition by unit_id order by years, read_at desc) as place,
         count(*) over (partition by unit_id, years) as own
       from reading, generate_series(10, 100, 10) as years) more
     where place <= $1 - own`,
    [readingsOfUnit],
  );
  await client.end();
}

const place = await createTestDatabase();
try {
  const env = { ...process.env, DATABASE_URL: place.url, BENCH_UNITS: String(units) };
  const npm = (...args: string[]) =>
    execFileSync('npm', ['run', ...args], { env, stdio: 'inherit' });
  npm('seed', '--', '--units', String(seeded), '--years', '10');
  await fillUp(place.url);
  const began = performance.now();
  npm('bench', '--', 'multiply-fleet');
  const minutes = ((performance.now() - began) / 60_000).toFixed(1);
  process.env.DATABASE_URL = place.url;
  const timed = await benchPages();
  const client = new pg.Client({ connectionString: place.url });
  await client.connect();
  const { rows } = await client.query<{ name: string; rows: string; table: string; all: string }>(
    `select relname as name, reltuples::bigint::text as rows,
       pg_size_pretty(pg_table_size(oid)) as table, pg_size_pretty(pg_total_relation_size(oid)) as all
     from pg_class where relkind = 'r' and relnamespace = 'public'::regnamespace
     order by pg_total_relation_size(oid) desc limit 6`,
  );
  const [server] = (
    await client.query<{ version: string; buffers: string }>(
      `select current_setting('server_version') as version, current_setting('shared_buffers') as buffers`,
    )
  ).rows;
  await client.end();
  const processor = cpus();
  writeFigures([
    `Found on ${new Date().toISOString().slice(0, 10)} by \`tests/bench/large-fleet.ts\` with PostgreSQL ${server?.version} (shared_buffers ${server?.buffers}) and the product on one machine of ${processor.length} threads (${processor[0]?.model}), which other work shared. ${seeded} seeded units were copied to ${units.toLocaleString('en-US')} in ${minutes} minutes. Server time without the network and the drawing of the page:`,
    '',
    '| View | p50, ms | p95, ms |',
    '|---|--:|--:|',
    ...timed.map(({ name, p50, p95 }) => `| ${name} | ${p50} | ${p95} |`),
    '',
    '| Table | Rows, about | Size | with indexes |',
    '|---|--:|--:|--:|',
    ...rows.map((one) => `| \`${one.name}\` | ${one.rows} | ${one.table} | ${one.all} |`),
  ]);
} finally {
  await place.drop();
}
