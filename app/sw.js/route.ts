import { readFile } from 'node:fs/promises';
import { join } from 'node:path';

/** The service worker, at the root of the site so that it sees the scripts of the bay card too. */
export async function GET(): Promise<Response> {
  const source = await readFile(join(process.cwd(), 'app', '_offline', 'worker.js'), 'utf8');
  return new Response(source, {
    headers: {
      'content-type': 'text/javascript; charset=utf-8',
      'cache-control': 'no-cache',
      'x-content-type-options': 'nosniff',
    },
  });
}
