import { sql } from 'drizzle-orm';
import { database } from '@/db/handle';
import { log } from '@/db/log';

export const dynamic = 'force-dynamic';

/** Ready when the database answers within two seconds. */
export async function GET(): Promise<Response> {
  try {
    const { db } = await database();
    const timeout = new Promise<never>((_, reject) =>
      setTimeout(() => reject(new Error('no answer within 2 s')), 2_000),
    );
    await Promise.race([db.execute(sql`select 1`), timeout]);
    return Response.json({ status: 'ready' });
  } catch (error) {
    log.error({ err: error }, 'not ready');
    return Response.json(
      { status: 'not ready', reason: 'the database does not answer' },
      { status: 503 },
    );
  }
}
