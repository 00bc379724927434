import { connectAsOwner } from '@/db/owner-connection';

const wanted = Number(process.env.BENCH_UNITS ?? 50_000);

const ofUnit = (column: string) => `lpad(copy::text, 3, '0') || ${column}`;
const ofRow = (column: string) => `md5(${column}::text || copy)::uuid`;

/** Columns in which a copy differs from its original. */
const changed: Readonly<Record<string, Readonly<Record<string, string>>>> = {
  unit: { id: ofUnit('id'), vin: 'null' },
  work_order: { id: ofRow('id'), unit_id: ofUnit('unit_id') },
  work_task: { id: ofRow('id'), work_order_id: ofRow('work_order_id') },
  fitment: { id: ofRow('id'), unit_id: ofUnit('unit_id'), work_order_id: ofRow('work_order_id') },
  reading: { id: ofRow('id'), unit_id: ofUnit('unit_id'), work_order_id: ofRow('work_order_id') },
  verdict: { id: ofRow('id'), unit_id: ofUnit('unit_id') },
  bulletin_unit: { unit_id: ofUnit('unit_id'), work_order_id: ofRow('work_order_id') },
};

/**
 * Copies the seeded fleet in DATABASE_URL within the database until it holds BENCH_UNITS: seconds
 * where a seed of that size takes a quarter of an hour. For timing only: the copies have no VIN and
 * no ledger entries, and the address must be a superuser's, since what refers to what is not checked.
 */
export async function multiplyFleet(): Promise<void> {
  const url = process.env.DATABASE_URL;
  if (!url) throw new Error('DATABASE_URL names no seeded fleet.');
  const begun = performance.now();
  const owner = await connectAsOwner({ url, folder: '' });
  try {
    const [now] = await owner.query<{ units: number }>('select count(*)::int as units from unit');
    const copies = Math.ceil(wanted / (now?.units ?? 0)) - 1;
    if (!(copies >= 1 && copies <= 999)) {
      throw new Error(`${now?.units} units cannot be copied to ${wanted}.`);
    }
    await owner.query("set session_replication_role = 'replica'");
    for (const [table, values] of Object.entries(changed)) {
      const columns = await owner.query<{ name: string }>(
        `select column_name as name from information_schema.columns
         where table_schema = 'public' and table_name = $1 and is_identity = 'NO'
           and coalesce(column_default, '') not like 'nextval%'`,
        [table],
      );
      const names = columns.map(({ name }) => name);
      const into = names.map((name) => `"${name}"`).join(', ');
      const from = names.map((name) => values[name] ?? `"${name}"`).join(', ');
      await owner.query(
        `insert into "${table}" (${into}) select ${from} from "${table}", generate_series(1, ${copies}) as copy`,
      );
    }
    await owner.query('vacuum (analyze)');
    const [units] = await owner.query<{ units: number }>('select count(*)::int as units from unit');
    const seconds = ((performance.now() - begun) / 1000).toFixed(1);
    console.log(`${units?.units} units in ${seconds} s.`);
  } finally {
    await owner.close();
  }
}
