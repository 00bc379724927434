import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import pg from 'pg';
import { openDatabase } from '@/db/client';
import { checkLedger } from '@/db/ledger';
import type { ReadingPayload } from '@/lib/intake/reading-payload';
import { createTestDatabase } from './databases';
import { type Served, serveProduct } from './serve-product';
import { soundPayload } from './sound-payload';
import { signedInAs, type Visitor } from './visitor';

const technician = 'tal';

/** The built product on a PostgreSQL database of its own, and a technician signed in to it. */
export interface ServedTechnician {
  readonly product: Served;
  readonly visitor: Visitor;
  /** Units of the technician's sheds. */
  readonly unitIds: readonly string[];
  payload(unitId: string, step: number): ReadingPayload;
  /** Ids of the readings that were sent and are on record. */
  stored(sent: readonly string[]): Promise<string[]>;
  ledgerFaults(): Promise<readonly unknown[]>;
  close(): Promise<void>;
}

export async function serveTechnician(
  units = 24,
  more: Readonly<Record<string, string>> = {},
): Promise<ServedTechnician> {
  const { url, drop } = await createTestDatabase();
  const folder = mkdtempSync(join(tmpdir(), 'idlemark-faults-'));
  const product = await serveProduct(
    {
      DATABASE_URL: url,
      IDLEMARK_DATA: join(folder, 'unused'),
      IDLEMARK_HEADS: join(folder, 'heads'),
      IDLEMARK_SECRET: 'a secret of the tests alone, long enough',
      ...more,
    },
    { units },
  );
  const query = async (text: string, values: unknown[]) => {
    const client = new pg.Client({ connectionString: url });
    await client.connect();
    return (await client.query(text, values).finally(() => client.end())).rows;
  };
  const unitIds = await query(
    `select unit.id from unit join person_shed using (shed_id)
     where person_id = $1 and laid_up_on is null and left_fleet_on is null order by unit.id`,
    [technician],
  );
  const began = Date.now();
  return {
    product,
    visitor: await signedInAs(product.origin, technician),
    unitIds: unitIds.map(({ id }) => id),
    // A minute apart, up to now: later than all that the demo's units have on record.
    payload: (unitId, step) => ({
      ...soundPayload(unitId, technician, step % 100),
      readAt: new Date(began - 3_600_000 + (step % 3_000) * 1_000).toISOString(),
    }),
    stored: async (sent) =>
      (await query('select id from reading where id = any($1)', [sent])).map(({ id }) => id),
    ledgerFaults: async () => {
      const open = await openDatabase({ url });
      return (await checkLedger(open.db).finally(() => open.close())).faults;
    },
    close: async () => {
      await product.stop();
      await drop();
      rmSync(folder, { recursive: true, force: true });
    },
  };
}
