import { createServer, type Server } from 'node:http';
import type { AddressInfo } from 'node:net';
import { afterEach, beforeEach, expect, it } from 'vitest';
import { countAnswer, metricsText } from '@/app/_metrics';
import { type Answered, fromHereHeader, routeOf, watchRequests } from '@/app/_watch-requests';

let server: Server;
let answerSlow: Promise<void>;
let origin: string;
let told: Answered[];
let watch: ReturnType<typeof watchRequests>;

beforeEach(async () => {
  told = [];
  watch = watchRequests((answered) => told.push(answered));
  server = createServer(async (request, response) => {
    if (request.url === '/slow') await answerSlow;
    response.statusCode = request.url === '/nowhere' ? 404 : 200;
    response.end(JSON.stringify(request.headers));
  });
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  origin = `http://127.0.0.1:${(server.address() as AddressInfo).port}`;
});
afterEach(async () => {
  watch.stop();
  await new Promise((resolve) => server.close(resolve));
});

const seenBy = async (headers: Record<string, string>) =>
  (await fetch(`${origin}/yard`, { headers })).json() as Promise<Record<string, string>>;

it('keeps a plain id of the caller, and gives one for any other', async () => {
  const given = await fetch(`${origin}/yard`, { headers: { 'x-request-id': 'from-proxy_0001' } });
  expect(given.headers.get('x-request-id')).toBe('from-proxy_0001');
  for (const odd of ['short', 'with spaces in it', 'x'.repeat(65), 'tal@tarn.example']) {
    const answer = await fetch(`${origin}/yard`, { headers: { 'x-request-id': odd } });
    const id = answer.headers.get('x-request-id') ?? '';
    expect(id).toMatch(/^[\da-f-]{36}$/);
    expect((await answer.json())['x-request-id']).toBe(id);
  }
  expect(told).toHaveLength(5);
  expect(told[0]).toMatchObject({ requestId: 'from-proxy_0001', method: 'GET', route: '/yard' });
});

it('tells of answers by route, never by what an address names', async () => {
  await fetch(`${origin}/units/TW-0041?search=Ines`);
  await fetch(`${origin}/nowhere`);
  await fetch(`${origin}/_next/static/chunk.js`);
  expect(told.map(({ route, status }) => ({ route, status }))).toEqual([
    { route: '/units/:id', status: 200 },
    { route: 'not found', status: 404 },
  ]);
  expect(routeOf('/api/v1/units/TW-0041/readings')).toBe('/api/v1/units/:id/readings');
  expect(routeOf('/api/v1/calendar/abcDEF0123456789_-abcDEF0123456789_-abcDEF01.ics')).toBe(
    '/api/v1/calendar/:id',
  );
  expect(routeOf('/api/v1/readings', 404)).toBe('/api/v1/readings');
  expect(routeOf('/api/v1/units/made-up/readings', 404)).toBe('/api/v1/units');
  expect(routeOf('/work-orders/1041/')).toBe('/work-orders/:id/');
  expect(routeOf('/first-run#x')).toBe('/first-run');
});

it('marks what came from this machine, and lets nobody claim it', async () => {
  expect((await seenBy({}))[fromHereHeader]).toBe('1');
  for (const name of ['x-forwarded-for', 'forwarded', 'via', 'x-real-ip', 'x-forwarded-host']) {
    const seen = await seenBy({ [name]: '127.0.0.1', [fromHereHeader]: '1' });
    expect({ name, mark: seen[fromHereHeader] }).toEqual({ name, mark: undefined });
  }
});

it('counts answers of the API, readings and refusals in OpenMetrics text', async () => {
  const answer = { requestId: 'r', method: 'POST', route: '/api/v1/readings', ms: 20 };
  for (const status of [201, 201, 200, 422]) countAnswer({ ...answer, status });
  countAnswer({ ...answer, method: 'GET', route: '/yard', status: 200 });
  const text = await metricsText(() => ({ open: 3, idle: 2, waiting: 0 }));
  const lines = text.split('\n');
  expect(lines).toContain('idlemark_readings_recorded_total 2');
  expect(lines).toContain('idlemark_outbox_refusals_total{status="422"} 1');
  expect(lines).toContain('idlemark_database_connections{state="open"} 3');
  expect(lines).toContain(
    'idlemark_api_request_seconds_count{method="POST",route="/api/v1/readings",status="201"} 2',
  );
  expect(text).not.toContain('/yard');
  expect(text).toContain('process_cpu_seconds_total');
  expect(text.trimEnd().endsWith('# EOF')).toBe(true);
});

it('drains: answers what is under way, and takes nothing new', async () => {
  let answer = () => {};
  answerSlow = new Promise((resolve) => {
    answer = resolve;
  });
  const slow = fetch(`${origin}/slow`);
  await new Promise((resolve) => server.once('request', resolve));
  const drained = watch.drain(60_000);
  await expect(fetch(`${origin}/yard`)).rejects.toThrow();
  answer();
  expect((await slow).status).toBe(200);
  expect(await drained).toBe(0);
  expect(told.map(({ route }) => route)).toEqual(['/slow']);
});

it('gives up draining in time, and says how many are left', async () => {
  let answer = () => {};
  answerSlow = new Promise((resolve) => {
    answer = resolve;
  });
  const slow = fetch(`${origin}/slow`);
  await new Promise((resolve) => server.once('request', resolve));
  expect(await watch.drain(10)).toBe(1);
  answer();
  expect((await slow).status).toBe(200);
});
