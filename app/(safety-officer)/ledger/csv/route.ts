import { requireSignIn } from '@/app/_session';
import { database } from '@/db/handle';
import { ledgerEntries } from '@/db/reads/ledger-entries';
import { requirePermission } from '@/lib/access';
import { csvRecord } from '@/lib/outflow/csv';
import { ledgerQuery, readLedgerSearch } from '../ledger-search';

const header = [
  'entry',
  'at',
  'device at',
  'who',
  'kind',
  'unit',
  'payload',
  'hash',
  'hash before',
];
const batch = 2_000;

/** Streamed in batches, newest first, so that a ledger of any length leaves the server. */
export async function GET(request: Request): Promise<Response> {
  const person = await requireSignIn('/ledger');
  requirePermission(person, 'export');
  const params = Object.fromEntries(new URL(request.url).searchParams);
  const query = ledgerQuery(readLedgerSearch(params).search);
  const { db } = await database();
  let offset = 0;
  const body = new ReadableStream<Uint8Array>({
    start(controller) {
      controller.enqueue(new TextEncoder().encode(csvRecord(header)));
    },
    async pull(controller) {
      const rows = await ledgerEntries(db, person, query, { limit: batch, offset });
      offset += rows.length;
      const text = rows
        .map((row) =>
          csvRecord([
            row.entry,
            row.at.toISOString(),
            row.deviceAt?.toISOString() ?? null,
            row.who,
            row.kind,
            row.unitId,
            row.canonical,
            row.hash,
            row.previousHash,
          ]),
        )
        .join('');
      if (text) controller.enqueue(new TextEncoder().encode(text));
      if (rows.length < batch) controller.close();
    },
  });
  return new Response(body, {
    headers: {
      'content-type': 'text/csv; charset=utf-8',
      'content-disposition': 'attachment; filename="ledger.csv"',
      'cache-control': 'no-store',
    },
  });
}
