import { randomUUID } from 'node:crypto';
import { request } from 'node:http';
import fc from 'fast-check';
import { beforeAll, describe, expect, inject, it } from 'vitest';
import { readingWith } from '../support/sound-payload';
import { signedInAs, Visitor } from '../support/visitor';

const origin = inject('origin');
const readings = '/api/v1/readings';
let technician: Visitor;

beforeAll(async () => {
  technician = await signedInAs(origin, 'tal');
});

const nested = (depth: number) => '['.repeat(depth) + ']'.repeat(depth);

/** A whole reading as text, so that a test can spoil any byte of it. */
const whole = (change: Record<string, unknown> = {}): string =>
  JSON.stringify({
    ...readingWith({
      unitId: 'NONE-9',
      signedBy: 'tal',
      source: 'api',
      keyed: { idle: { value: '13.1', unit: 'psi' } },
    }),
    ...change,
  });
const idle = (value: unknown) => ({ keyed: { idle: { value, unit: 'psi' } } });

describe('the cookie', () => {
  it('is bound to this host, unseen by scripts, and sent over TLS and from this site only', async () => {
    const answer = await new Visitor(origin).signIn('tal@tarn.example');
    const kept = answer.headers.getSetCookie();
    expect(kept).toHaveLength(1);
    expect(kept[0]).toMatch(/^__Host-idlemark=/);
    const flags = (kept[0] ?? '').toLowerCase().split('; ');
    expect(flags).toEqual(expect.arrayContaining(['secure', 'httponly', 'samesite=lax', 'path=/']));
    expect(flags.filter((flag) => flag.startsWith('domain'))).toEqual([]);
  });
});

describe('the policy of a page', () => {
  it('runs scripts by nonce alone, a fresh one each time, and lets nobody frame it', async () => {
    const nonces = new Set<string>();
    for (const path of ['/sign-in', '/sign-in/code', '/units/NONE-9', '/sign-in']) {
      const answer = await technician.get(path);
      const policy = answer.headers.get('content-security-policy') ?? '';
      const scripts = /script-src ([^;]*)/.exec(policy)?.[1] ?? '';
      expect(scripts).not.toContain('unsafe-inline');
      expect(policy).toContain("frame-ancestors 'none'");
      expect(policy).toContain("object-src 'none'");
      expect(policy).toContain("base-uri 'none'");
      const nonce = /'nonce-([^']+)'/.exec(scripts)?.[1] ?? '';
      nonces.add(nonce);
      const tags = [...(await answer.text()).matchAll(/<script(?![^>]*type="application)[^>]*>/g)];
      for (const [tag] of tags) expect(tag).toContain(`nonce="${nonce}"`);
      expect(answer.headers.get('x-content-type-options')).toBe('nosniff');
    }
    expect(nonces.size).toBe(4);
  });
});

describe('posts from elsewhere', () => {
  const origins = [undefined, 'http://elsewhere.example', 'null', `${origin}.elsewhere.example`];

  it('are refused by the routes, whatever they hold', async () => {
    for (const from of origins) {
      const headers: Record<string, string> = { 'content-type': 'application/json' };
      if (from) headers.origin = from;
      const answer = await technician.ask('POST', readings, { body: whole(), headers });
      expect({ from, status: answer.status }).toEqual({ from, status: 403 });
    }
  });

  it('are refused by the forms', async () => {
    const form = await technician.formOf('/sign-in/code', 'name="code"');
    for (const from of origins) {
      const answer = await technician.submit('/sign-in/code', form, from ? { origin: from } : {});
      expect({ from, status: answer.status }).toEqual({ from, status: 403 });
    }
  });

  it('that a plain form could send are no JSON', async () => {
    for (const type of [
      'text/plain',
      'application/x-www-form-urlencoded',
      'application/jsonp',
      '',
    ]) {
      const answer = await technician.post(readings, whole(), { 'content-type': type });
      expect({ type, status: answer.status }).toEqual({ type, status: 415 });
    }
  });
});

describe('bodies', () => {
  it('are read no further than the limit', async () => {
    const note = 'x'.repeat(10 * 1024 * 1024);
    expect((await technician.post(readings, whole({ note }))).status).toBe(413);
  });

  it('without a length are cut at the limit all the same', async () => {
    const status = await new Promise<number | undefined>((resolve, reject) => {
      const { hostname, port } = new URL(origin);
      const cookie = [...technician.cookies].map(([name, value]) => `${name}=${value}`).join('; ');
      const asked = request(
        {
          hostname,
          port,
          path: readings,
          method: 'POST',
          headers: { origin, cookie, 'content-type': 'application/json' },
        },
        (answer) => {
          answer.resume();
          resolve(answer.statusCode);
          asked.destroy();
        },
      );
      asked.once('error', reject);
      for (let chunk = 0; chunk < 40; chunk++) asked.write(' '.repeat(16 * 1024));
      asked.end();
    });
    expect(status).toBe(413);
  });

  it.each([
    ['a depth of 10,000', nested(10_000), 422],
    ['a depth of 10,000 in a field', whole().replace('"NONE-9"', nested(10_000)), 422],
    ['a key held twice', whole().replace('{', '{"line":"oil",'), 400],
    ['a key held twice, once escaped', whole().replace('{', '{"\\u006cine":"oil",'), 400],
    ['half a body', whole().slice(0, 100), 400],
    ['nothing', '', 400],
    ['NaN', whole().replace('"13.1"', 'NaN'), 400],
    ['a number past all numbers', whole().replace('"13.1"', '1e309'), 422],
    ['minus nought', whole().replace('"13.1"', '-0'), 422],
    ['no time at all', whole({ readAt: '2026-02-30T00:00:00Z' }), 422],
    ['an unknown field', whole({ isReleased: true }), 422],
    ['a NUL', whole({ note: 'a\0b' }), 422],
    ['half of a pair', whole({ note: '\ud800' }), 422],
    ['a mark that reverses', whole({ note: 'a\u202eb' }), 422],
    ['a NUL in an id', whole({ gaugeId: '\0' }), 422],
    ['a comma for a point', whole(idle('24,5')), 422],
    ['digits of another script', whole(idle('\u0661\u0663')), 422],
    ['a formula', whole(idle('=1+1')), 422],
    ['a prototype', whole().replace('{', '{"__proto__":{"role":"admin"},'), 422],
  ])('with %s are refused with what to mend', async (_, body, status) => {
    const answer = await technician.post(readings, body);
    expect(answer.status).toBe(status);
    expect(answer.headers.get('content-type')).toBe('application/problem+json');
    const said = await answer.json();
    expect(said.title.length).toBeGreaterThan(10);
    if (status === 422) {
      for (const { field, message, mend } of said.problems) {
        expect(Math.min(field.length, message.length, mend.length)).toBeGreaterThan(0);
      }
      expect(said.problems.length).toBeGreaterThan(0);
    }
  });

  it('that are not UTF-8 are refused', async () => {
    const answer = await fetch(origin + readings, {
      method: 'POST',
      body: new Uint8Array([0x7b, 0x22, 0xff, 0xfe, 0x22, 0x7d]),
      headers: {
        origin,
        'content-type': 'application/json',
        cookie: [...technician.cookies].map(([name, value]) => `${name}=${value}`).join('; '),
      },
    });
    expect(answer.status).toBe(400);
  });
});

describe('whatever is sent', () => {
  const runs = 300;

  it(`gets an answer that is no fault: ${runs} values`, async () => {
    const field = fc.constantFrom(...Object.keys(JSON.parse(whole())));
    await fc.assert(
      fc.asyncProperty(
        fc.oneof(
          fc.json(),
          fc.string({ unit: 'binary' }),
          fc.tuple(field, fc.jsonValue()).map(([name, value]) => whole({ [name]: value })),
          fc.string({ unit: 'binary' }).map((text) => whole(idle(text))),
          fc.tuple(fc.nat(400), fc.string()).map(([at, text]) => {
            const body = whole();
            return body.slice(0, at) + text + body.slice(at + 1);
          }),
        ),
        async (body) => {
          const { status } = await technician.post(readings, body);
          expect([400, 404, 422]).toContain(status);
        },
      ),
      { numRuns: runs, seed: 20_260_630 },
    );
  });

  it('the sign-in page sends nobody to another site', async () => {
    for (const to of ['//elsewhere.example', '/\\elsewhere.example', 'http://elsewhere.example']) {
      const answer = await new Visitor(origin).fill('/sign-in', 'name="password"', {
        email: 'tal@tarn.example',
        password: 'demo-only-not-secret',
        to,
      });
      expect(answer.headers.get('location')).toBe('/');
    }
  });
});

describe('guessing a password', () => {
  it('ends after ten tries, also for the right one, and tells no known address from an unknown', async () => {
    const email = `nobody-${randomUUID()}@tarn.example`;
    const guesser = new Visitor(origin);
    const form = await guesser.formOf('/sign-in', 'name="password"');
    const guess = async (who: string) =>
      (await guesser.submit('/sign-in', { ...form, email: who, password: 'not this one' })).text();
    const said = (html: string) =>
      /role="alert"[\s\S]*?<\/div>/.exec(html)?.[0].replace(/\d+/g, '');
    for (let attempt = 0; attempt < 10; attempt++) {
      expect(await guess(email)).toContain('The address or the password is not right');
    }
    const blocked = await guess(email.toUpperCase());
    expect(blocked).toContain('Too many tries have failed');
    for (let attempt = 0; attempt < 10; attempt++) await guess('bela@tarn.example');
    expect(said(await guess('bela@tarn.example'))).toBe(said(blocked));
    const right = await guesser.signIn('bela@tarn.example');
    expect(right.status).toBe(200);
    expect(right.headers.getSetCookie()).toEqual([]);
  });

  it('with a NUL or at great length is an answer, no fault', async () => {
    const guesser = new Visitor(origin);
    for (const email of ['a\0b@tarn.example', `${'a'.repeat(5000)}@tarn.example`]) {
      const answer = await guesser.signIn(email, 'x\0');
      expect(answer.status).toBe(200);
      expect(answer.headers.getSetCookie()).toEqual([]);
    }
  });
});
