import { describe, expect, inject, it } from 'vitest';

const origin = inject('origin');

describe('the metrics', () => {
  it('are read on this machine, and by nobody who comes through a proxy', async () => {
    await fetch(`${origin}/api/v1/units`);
    const here = await fetch(`${origin}/metrics`);
    expect(here.headers.get('content-type')).toMatch(/^application\/openmetrics-text/);
    const text = await here.text();
    expect(text).toMatch(
      /^idlemark_api_request_seconds_count\{.*route="\/api\/v1\/units".*\} \d+$/m,
    );
    expect(text).toContain('idlemark_sweep_last_success_timestamp_seconds');
    const metricsToken = inject('metricsToken');
    const through = (token: string) =>
      fetch(`${origin}/metrics`, {
        headers: { 'x-forwarded-for': '127.0.0.1', ...(token && { authorization: token }) },
      });
    expect((await through('')).status).toBe(403);
    expect((await through(`Bearer ${metricsToken.slice(1)}`)).status).toBe(403);
    expect((await through(`Bearer ${metricsToken}`)).status).toBe(200);
  });
});
