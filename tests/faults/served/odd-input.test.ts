import { mkdtempSync, rmSync } from 'node:fs';
import { connect } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { count, eq } from 'drizzle-orm';
import fc from 'fast-check';
import { afterAll, afterEach, beforeAll, describe, expect, it } from 'vitest';
import { openDatabase } from '@/db/client';
import { checkLedger } from '@/db/ledger';
import { unit, verdict } from '@/db/schema';
import { lookAround, routesOf, type Seen, type SeenForm } from '../../support/pages-seen';
import { type Served, serveProduct } from '../../support/serve-product';
import { signedInAs, type Visitor } from '../../support/visitor';
import { atScale, found } from '../scale';

const folder = mkdtempSync(join(tmpdir(), 'idlemark-odd-'));
const database = join(folder, 'database');
const routes = [...routesOf('page.tsx'), ...routesOf('route.ts')];
/** Whoever may change people comes last: odd input must not bar the others first. */
const people = ['ines', 'tal', 'moro', 'rhea', 'kit'];
const perPlace = atScale(1, 25);

const oddText = fc.oneof(
  { arbitrary: fc.string({ unit: 'binary', maxLength: 60 }), weight: 2 },
  { arbitrary: fc.string({ maxLength: 60 }), weight: 1 },
  { arbitrary: fc.double().map(String), weight: 1 },
  {
    arbitrary: fc.constantFrom(
      '\0',
      'a\0b',
      '\ud800',
      '\u202eabc',
      '24,5',
      '١٣',
      '-0',
      '1e309',
      '9'.repeat(400),
      '2026-02-30',
      '0000-00-00',
      '+275760-09-14',
      '99999999-9999-9999-9999-999999999999',
      '=1+1',
      "'; drop table unit; --",
      '../../etc/passwd',
      '%00',
      '%E0%A4%A',
      '{"a":',
      '[[[[[[[[',
      '<script>',
      '',
      ' ',
      'x'.repeat(9_000),
    ),
    weight: 8,
  },
);
const odd = (() => {
  const texts = fc.sample(oddText, { numRuns: 2_000, seed: 20_261_129 });
  let next = 0;
  return () => texts[next++ % texts.length] ?? '';
})();

let product: Served;
const visitors = new Map<string, Visitor>();
const seen = new Map<string, Seen>();
let asked = 0;
let faulty = 0;
let faults: string[] = [];

async function ask(what: string, answer: Promise<Response>): Promise<number> {
  const { status } = await answer;
  asked += 1;
  if (status >= 500) faults.push(`${what}: ${status}`);
  return status;
}

beforeAll(async () => {
  product = await serveProduct({ IDLEMARK_DATA: database }, { units: 40 });
  for (const who of people) {
    const visitor = await signedInAs(product.origin, who);
    visitors.set(who, visitor);
    seen.set(who, await lookAround(visitor, routes));
  }
});

/** What a test asked was answered without a fault of the server. */
afterEach(() => {
  const toldNow = faults;
  faulty += faults.length;
  faults = [];
  expect(toldNow).toEqual([]);
});

afterAll(() => rmSync(folder, { recursive: true, force: true }));

const may = (route: string): Visitor => {
  const who = people.find((one) => seen.get(one)?.opened.has(route)) ?? 'ines';
  return visitors.get(who) as Visitor;
};

const asAddress = (text: string) => encodeURIComponent(text.toWellFormed());

describe('every route', () => {
  it('answers whatever stands in its address', { timeout: 1_200_000 }, async () => {
    const names = new Set([...seen.values()].flatMap((one) => [...one.names]));
    for (const route of routes) {
      const known = [...seen.values()].find((one) => one.addresses.has(route));
      const address = known?.addresses.get(route) ?? route.replaceAll(/\[\w+\]/g, 'x');
      for (let time = 0; time < perPlace; time++) {
        const query = [...names].map((name) => `${name}=${asAddress(odd().slice(0, 300))}`);
        const withQuery = `${address}?${query.join('&')}`;
        await ask(withQuery, may(route).get(withQuery));
        if (!route.includes('[')) continue;
        const elsewhere = route.replaceAll(
          /\[\w+\]/g,
          () => asAddress(odd().slice(0, 300)) || '%20',
        );
        await ask(elsewhere, may(route).get(elsewhere));
      }
    }
  });

  it('answers whatever it is sent', { timeout: 1_200_000 }, async () => {
    for (const route of routesOf('route.ts')) {
      const address = route.replaceAll(/\[\w+\]/g, '7b627ec8-3e63-4919-9188-3604a750c080');
      for (const method of ['POST', 'PUT', 'PATCH', 'DELETE']) {
        for (let time = 0; time < perPlace; time++) {
          const body = odd();
          for (const type of [
            'application/json',
            'text/plain',
            'multipart/form-data; boundary=x',
          ]) {
            const headers = { origin: product.origin, 'content-type': type };
            const answer = may(route).ask(method, address, { body, headers });
            await ask(`${method} ${address} ${type} ${body}`, answer);
          }
        }
      }
    }
  });
});

/** Signs in again once the session has sent more than one device may. */
async function send(who: string, form: SeenForm, fields: Record<string, string>): Promise<void> {
  const own = { ...form.hidden, ...form.filled, ...fields };
  const what = `${who} sends ${form.path} ${JSON.stringify(fields)}`;
  const status = await ask(what, (visitors.get(who) as Visitor).submit(form.path, own));
  if (status !== 429) return;
  visitors.set(who, await signedInAs(product.origin, who));
  await send(who, form, fields);
}

describe('every form', () => {
  it.each(people)(
    'that %s may fill in answers whatever is filled in',
    {
      timeout: 1_200_000,
    },
    async (who) => {
      const forms = seen.get(who)?.forms ?? [];
      expect(forms.length).toBeGreaterThan(0);
      for (const form of forms) {
        const filled = Object.keys(form.filled);
        const kept = Object.keys(form.hidden).filter((name) => !name.startsWith('$ACTION'));
        // No text of the database can hold it. Each field in turn: one that is refused hides the others.
        for (const name of [...kept, ...filled]) await send(who, form, { [name]: 'a\0b' });
        for (let time = 0; time < perPlace; time++) {
          const all = Object.fromEntries(filled.map((name) => [name, odd()]));
          if (filled.length > 0) await send(who, form, all);
          for (const names of [filled, kept]) {
            const name = names[(time + form.path.length) % names.length];
            if (name !== undefined) await send(who, form, { [name]: odd() });
          }
        }
      }
    },
  );
});

/** Sends bytes that are no request, or not a whole one; resolves with what came back once all is said. */
function raw(bytes: string): Promise<string> {
  const { hostname, port } = new URL(product.origin);
  return new Promise((resolve) => {
    let heard = '';
    const socket = connect(Number(port), hostname, () => socket.write(bytes, 'latin1'));
    const end = setTimeout(() => socket.destroy(), 1_500);
    socket.on('data', (chunk) => {
      heard += chunk.toString('latin1');
    });
    socket.on('error', () => {});
    socket.on('close', () => {
      clearTimeout(end);
      resolve(heard);
    });
  });
}

describe('bytes that are no request', () => {
  const post = 'POST /api/v1/readings HTTP/1.1\r\nHost: x\r\n';
  const cases = [
    'no request at all\r\n\r\n',
    'GET\r\n\r\n',
    'GET /yard HTTP/9.9\r\nHost: x\r\n\r\n',
    'BREW /yard HTTP/1.1\r\nHost: x\r\nConnection: close\r\n\r\n',
    'GET http://elsewhere.example/ HTTP/1.1\r\nHost: x\r\nConnection: close\r\n\r\n',
    'GET //elsewhere.example/%2f.. HTTP/1.1\r\nHost: x\r\nConnection: close\r\n\r\n',
    'GET /\0 HTTP/1.1\r\nHost: x\r\n\r\n',
    `GET /${'a'.repeat(40_000)} HTTP/1.1\r\nHost: x\r\n\r\n`,
    `GET /yard HTTP/1.1\r\nHost: x\r\nCookie: ${'a'.repeat(40_000)}\r\n\r\n`,
    'GET /yard HTTP/1.1\r\nHost: x\r\nCookie: __Host-idlemark=%%%;;;=\x01\r\nConnection: close\r\n\r\n',
    `${post}Content-Length: 5\r\nTransfer-Encoding: chunked\r\n\r\n0\r\n\r\n`,
    `${post}Content-Length: -1\r\n\r\n`,
    `${post}Content-Length: 100\r\nContent-Type: application/json\r\n\r\n{"half":`,
    `${post}Transfer-Encoding: chunked\r\n\r\nZZZ\r\n`,
    `${post}Expect: 200-ok\r\nContent-Length: 0\r\nConnection: close\r\n\r\n`,
    'GET /api/v1/bay HTTP/1.1\r\nHost: x\r\nUpgrade: websocket\r\nConnection: Upgrade\r\n\r\n',
    'GET /yard HTTP/1.1\r\nHost: x\r\nNext-Action: 00\r\nConnection: close\r\n\r\n',
    'POST /yard HTTP/1.1\r\nHost: x\r\nNext-Action: 00\r\nContent-Length: 2\r\nConnection: close\r\n\r\n[]',
  ];

  it.each(cases.map((bytes) => [JSON.stringify(bytes.slice(0, 90)), bytes]))(
    '%s are answered without a fault, or with nothing',
    async (_, bytes) => {
      expect(/^HTTP\/1\.1 5\d\d/m.exec(await raw(bytes))).toBeNull();
    },
  );

  it('leave the product as ready as before', async () => {
    const noise = fc.sample(fc.uint8Array({ maxLength: 400 }), { numRuns: perPlace * 20, seed: 1 });
    const text = (bytes: Uint8Array) => Buffer.from(bytes).toString('latin1');
    await Promise.all(noise.map((bytes) => raw(`${text(bytes)}\r\n\r\n`)));
    expect((await fetch(`${product.origin}/health/ready`)).status).toBe(200);
  });
});

/** Runs last: it ends the product to open its database. */
it('what odd input left behind is whole: the chain holds and every unit has one verdict', async () => {
  await product.stop();
  const { db, close } = await openDatabase({ folder: database });
  try {
    expect((await checkLedger(db)).faults).toEqual([]);
    const [units] = await db.select({ count: count() }).from(unit);
    const verdicts = await db
      .select({ unitId: verdict.unitId })
      .from(verdict)
      .where(eq(verdict.isCurrent, true));
    expect(new Set(verdicts.map(({ unitId }) => unitId)).size).toBe(verdicts.length);
    expect(verdicts.length).toBeLessThanOrEqual(units?.count ?? 0);
  } finally {
    await close();
  }
  found(
    'Odd input',
    `${asked} requests to ${routes.length} routes and their forms, ${faulty} faults, ledger whole`,
  );
});
