import { randomUUID } from 'node:crypto';
import { beforeAll, describe, expect, inject, it } from 'vitest';
import { readingWith } from '../support/sound-payload';
import { signedInAs, Visitor } from '../support/visitor';

const origin = inject('origin');
const people = {
  technician: 'tal',
  'fleet manager': 'ines',
  'safety officer': 'rhea',
  auditor: 'moro',
  admin: 'kit',
} as const;
type Role = keyof typeof people;

const by = {} as Record<Role, Visitor>;
let ownUnit: string;
let otherUnit: string;

beforeAll(async () => {
  for (const [role, who] of Object.entries(people))
    by[role as Role] = await signedInAs(origin, who);
  const unitsFor = async (role: Role): Promise<string[]> => {
    const csv = await (await by[role].get('/api/v1/units/csv?mark=all')).text();
    return [...csv.matchAll(/^"?([A-Z0-9-]{3,16})"?,/gm)].map(([, unit]) => unit ?? '');
  };
  const own = await unitsFor('technician');
  const all = await unitsFor('fleet manager');
  ownUnit = own[0] ?? '';
  otherUnit = all.find((unit) => !own.includes(unit)) ?? '';
  expect([ownUnit, otherUnit]).not.toContain('');
});

const operations: readonly Role[] = ['technician', 'fleet manager', 'safety officer'];
const seers: readonly Role[] = [...operations, 'auditor'];
const packMakers: readonly Role[] = ['fleet manager', 'safety officer', 'auditor'];

/** The design's table of rights, cell by cell: who gets a page or a route that reads. */
const reads: readonly (readonly [string, readonly Role[]])[] = [
  ['/yard', seers],
  ['/api/v1/units', seers],
  ['/api/v1/units/csv', seers],
  ['/stand-down', seers],
  ['/stand-down/csv', seers],
  ['/effectivity', seers],
  ['/work-orders', seers],
  ['/ledger', seers],
  ['/ledger/csv', seers],
  ['/auditors-pack', packMakers],
  ['/auditors-pack/csv?from=2000-01-01&to=2000-01-02', packMakers],
  ['/auditors-pack/pdf?from=2000-01-01&to=2000-01-02', packMakers],
  ['/stand-down/new', operations],
  ['/api/v1/bay', ['technician', 'safety officer']],
  ['/people', ['admin']],
  ['/sheds', ['admin']],
];

/** Past what air pressure allows: whoever may record is told so, and nothing is stored. */
const payload = (unitId: string, signedBy: string) =>
  readingWith({
    unitId,
    signedBy,
    source: 'api',
    keyed: { idle: { value: '25.5', unit: 'psi' } },
  });
const record = (visitor: Visitor, unitId: string, signedBy = 'tal') =>
  visitor.post('/api/v1/readings', JSON.stringify(payload(unitId, signedBy)));

/** The status of a page; one that has begun to stream refuses in its stream, with nothing shown. */
async function statusOf(visitor: Visitor, path: string): Promise<number> {
  const answer = await visitor.get(path);
  if (answer.status !== 200) {
    const toSignIn = answer.headers.get('location')?.startsWith('/sign-in');
    return answer.status === 307 && toSignIn ? 401 : answer.status;
  }
  const html = await answer.text();
  if (html.includes('role="grid"')) return 200;
  if (html.includes('data-dgst="NEXT_HTTP_ERROR_FALLBACK;403"')) return 403;
  return /id="__next-page-redirect"[^>]*url=\/sign-in/.test(html) ? 401 : 200;
}

describe('who may read what', () => {
  for (const [path, allowed] of reads) {
    it(`${path}: ${allowed.join(', ')}`, async () => {
      for (const role of Object.keys(people) as Role[]) {
        const status = await statusOf(by[role], path);
        expect({ role, status }).toEqual({ role, status: allowed.includes(role) ? 200 : 403 });
      }
    });
  }

  it('one unit: own shed and other shed', async () => {
    const cells = [
      ['technician', ownUnit, 200],
      ['technician', otherUnit, 403],
      ['fleet manager', otherUnit, 200],
      ['safety officer', otherUnit, 200],
      ['auditor', otherUnit, 200],
      ['admin', ownUnit, 403],
    ] as const;
    for (const [role, unit, status] of cells) {
      for (const path of [`/units/${unit}`, `/api/v1/units/${unit}/readings`]) {
        expect({ role, path, status: (await by[role].get(path)).status }).toEqual({
          role,
          path,
          status,
        });
      }
    }
  });
});

describe('who may record', () => {
  it('a technician in the own shed, a safety officer anywhere, nobody else', async () => {
    const cells = [
      ['technician', ownUnit, 422],
      ['technician', otherUnit, 403],
      ['safety officer', otherUnit, 422],
      ['fleet manager', ownUnit, 403],
      ['auditor', ownUnit, 403],
      ['admin', ownUnit, 403],
    ] as const;
    for (const [role, unit, status] of cells) {
      const answer = await record(by[role], unit);
      expect({ role, unit, status: answer.status }).toEqual({ role, unit, status });
    }
  });

  it('forged ids are refused: a unit that is none, a signer who is none', async () => {
    expect((await record(by.technician, 'NONE-9')).status).toBe(404);
    expect((await by['fleet manager'].get('/units/NONE-9')).status).toBe(404);
    const answer = await record(by.technician, ownUnit, randomUUID());
    expect(answer.status).toBe(422);
    expect(await answer.json()).toMatchObject({ problems: [{ field: 'signedBy' }] });
  });
});

describe('signed out', () => {
  it('nothing is shown and nothing recorded', async () => {
    const nobody = new Visitor(origin);
    for (const [path] of reads) {
      expect({ path, status: await statusOf(nobody, path) }).toEqual({ path, status: 401 });
    }
    expect(await statusOf(nobody, `/units/${ownUnit}`)).toBe(401);
    expect((await record(nobody, ownUnit)).status).toBe(401);
  });

  it('nor with a session that is made up, altered, or ended', async () => {
    const [[name, value]] = by.technician.cookies as unknown as [[string, string]];
    const leaver = await signedInAs(origin, 'tal');
    const ended = [...leaver.cookies.values()][0] ?? '';
    await leaver.fill(`/units/${ownUnit}`, 'Sign out', {});
    const altered = value.replace(/^./, (first) => (first === 'a' ? 'b' : 'a'));
    for (const cookie of ['x', 'x.y', altered, ended]) {
      const forger = new Visitor(origin);
      forger.cookies.set(name, cookie);
      expect((await forger.get('/api/v1/bay')).status).toBe(401);
      expect((await record(forger, ownUnit)).status).toBe(401);
    }
    expect((await by.technician.get('/api/v1/bay')).status).toBe(200);
  });
});

describe('a right taken away', () => {
  const invite = async () => {
    const mark = randomUUID().slice(0, 8);
    const email = `new-${mark}@tarn.example`;
    const answer = await by.admin.fill('/people', 'name="badge"', {
      name: `New ${mark}`,
      email,
      badge: mark,
      role: 'technician',
    });
    const html = await answer.text();
    const code = /([0-9A-HJKMNP-TV-Z]{5}-){3}[0-9A-HJKMNP-TV-Z]{5}/.exec(html)?.[0] ?? '';
    const visitor = new Visitor(origin);
    const set = () =>
      visitor.fill('/sign-in/code', 'name="code"', { email, code, password: 'twelve-or-more' });
    expect((await set()).status).toBe(303);
    return { visitor, email, name: `New ${mark}`, set };
  };
  const formFor = async (name: string) => {
    const html = await (await by.admin.get('/people')).text();
    const after = html.slice(html.indexOf(`Change ${name}`));
    const personId = /name="personId" value="([^"]*)"/.exec(after)?.[1] ?? '';
    return by.admin.formOf('/people', `value="${personId}"`);
  };

  it('is gone with the next request, and a barred person signs in no more', async () => {
    const { visitor, email, name, set } = await invite();
    expect((await set()).status).toBe(200);
    expect((await visitor.get('/api/v1/bay')).status).toBe(200);
    const form = await formFor(name);
    await by.admin.submit('/people', { ...form, act: 'change', role: 'auditor' });
    expect((await visitor.get('/api/v1/bay')).status).toBe(403);
    expect((await visitor.get('/ledger')).status).toBe(200);
    await by.admin.submit('/people', { ...form, act: 'bar' });
    expect((await visitor.get('/api/v1/units')).status).toBe(401);
    expect((await visitor.signIn(email, 'twelve-or-more')).status).toBe(200);
    await by.admin.submit('/people', { ...form, act: 'let in' });
    expect((await visitor.signIn(email, 'twelve-or-more')).status).toBe(303);
  });

  it("is not had by sending another role's form, nor for oneself", async () => {
    const { name } = await invite();
    const form = await formFor(name);
    for (const role of ['technician', 'fleet manager', 'safety officer', 'auditor'] as const) {
      const answer = await by[role].submit('/people', { ...form, act: 'change', role: 'admin' });
      expect(answer.status).toBe(403);
    }
    const nobody = new Visitor(origin);
    expect((await nobody.submit('/people', { ...form, act: 'bar' })).status).toBe(303);
    const html = await (await by.admin.get('/people')).text();
    const row = html.slice(html.indexOf(`${name}</th>`)).split('</tr>')[0];
    expect(row).toContain('<td>technician</td>');
    const own = { ...form, personId: 'kit', act: 'change', role: 'safety officer' };
    expect(await (await by.admin.submit('/people', own)).text()).toContain(
      'Nobody changes themselves',
    );
  });
});
