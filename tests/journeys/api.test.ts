import OpenAPIClientAxios, { type Document, type OpenAPIClient } from 'openapi-client-axios';
import { beforeAll, describe, expect, inject, it } from 'vitest';
import { readingWith } from '../support/sound-payload';
import { signedInAs, type Visitor } from '../support/visitor';

const origin = inject('origin');
let admin: Visitor;
let document: Document;

beforeAll(async () => {
  admin = await signedInAs(origin, 'kit');
  document = (await (await fetch(`${origin}/api/v1/openapi.json`)).json()) as Document;
});

async function issue(label: string, personId: string, scope: string): Promise<string> {
  const answer = await admin.fill('/tokens', 'name="label"', {
    label,
    personId,
    scopes: scope,
    days: '30',
  });
  return /idm_[\w-]{43}/.exec(await answer.text())?.[0] ?? '';
}

/** A client made from nothing but the document that the running product serves. */
async function clientWith(token: string): Promise<OpenAPIClient> {
  const api = new OpenAPIClientAxios({
    definition: document,
    axiosConfigDefaults: {
      headers: { authorization: `Bearer ${token}` },
      validateStatus: () => true,
    },
  });
  return api.init();
}

const call = async (client: OpenAPIClient, operation: string, ...args: unknown[]) => {
  const run = client[operation as keyof OpenAPIClient] as unknown as (
    ...given: unknown[]
  ) => Promise<{ status: number; data: Record<string, unknown> }>;
  return run(...args);
};

describe('a client made from the OpenAPI document', () => {
  it('lists units and records a reading once, with a token of those scopes', async () => {
    const reader = await clientWith(await issue('Reader', 'tal', 'units:read'));
    const listed = await call(reader, 'listUnits', { mark: 'all' });
    expect(listed.status).toBe(200);
    const [first] = listed.data.rows as { unit: string }[];
    const unitId = first?.unit ?? '';
    const writer = await clientWith(await issue('Writer', 'tal', 'readings:write'));
    const reading = readingWith({ unitId, signedBy: 'tal', source: 'api' });
    const recorded = await call(writer, 'recordReading', null, reading);
    expect([201, 422]).toContain(recorded.status);
    if (recorded.status === 201) {
      expect(recorded.data).toMatchObject({ readingId: reading.id, verdict: { unitId } });
      expect((await call(writer, 'recordReading', null, reading)).status).toBe(200);
    } else expect(recorded.data.questions).not.toEqual([]);
    const mad = { ...reading, keyed: { idle: { value: '25.5', unit: 'psi' } } };
    const refused = await call(writer, 'recordReading', null, mad);
    expect(refused.status).toBeGreaterThanOrEqual(409);
    expect((await call(writer, 'readingsOfUnit', unitId)).status).toBe(403);
    expect((await call(reader, 'recordReading', null, reading)).status).toBe(403);
  });

  it('gets no further than the rights of the person it acts for', async () => {
    const auditor = await clientWith(await issue('Audit', 'moro', 'readings:write'));
    const listed = await call(
      await clientWith(await issue('Lists', 'moro', 'units:read')),
      'listUnits',
      { mark: 'all' },
    );
    const [first] = listed.data.rows as { unit: string }[];
    const reading = readingWith({ unitId: first?.unit ?? '', signedBy: 'moro', source: 'api' });
    expect((await call(auditor, 'recordReading', null, reading)).status).toBe(403);
  });

  it('is refused with a token that is made up or revoked, cookie or not', async () => {
    const made = await clientWith(`idm_${'A'.repeat(43)}`);
    expect((await call(made, 'listUnits')).status).toBe(401);
    const token = await issue('Short-lived', 'tal', 'units:read');
    const client = await clientWith(token);
    expect((await call(client, 'listUnits')).status).toBe(200);
    const html = await (await admin.get('/tokens')).text();
    expect(html).not.toContain(token);
    const row = html.slice(html.indexOf('Short-lived</th>'));
    const [button = ''] = /<button[^>]*name="tokenId"[^>]*>/.exec(row) ?? [];
    const tokenId = /value="([^"]*)"/.exec(button)?.[1] ?? '';
    const form = await admin.formOf('/tokens', `value="${tokenId}"`);
    await admin.submit('/tokens', { ...form, tokenId });
    expect((await call(client, 'listUnits')).status).toBe(401);
    const besideCookie = await admin.ask('GET', '/api/v1/units', {
      headers: { authorization: `Bearer ${token}` },
    });
    expect(besideCookie.status).toBe(401);
  });
});

describe('the page of tokens', () => {
  it("is an admin's alone", async () => {
    for (const who of ['ines', 'tal', 'rhea', 'moro']) {
      const visitor = await signedInAs(origin, who);
      expect({ who, status: (await visitor.get('/tokens')).status }).toEqual({ who, status: 403 });
    }
  });
});
