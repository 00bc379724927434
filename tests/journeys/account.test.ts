import { existsSync, readFileSync } from 'node:fs';
import { describe, expect, inject, it } from 'vitest';
import { signedInAs, Visitor } from '../support/visitor';

const origin = inject('origin');
const mailFile = inject('mailFile');
const mailed = () => (existsSync(mailFile) ? readFileSync(mailFile, 'utf8') : '');

describe('signing out everywhere', () => {
  it('ends the sessions of every device, and leads to the sign-in', async () => {
    const [tablet, desk] = [await signedInAs(origin, 'jory'), await signedInAs(origin, 'jory')];
    const page = await (await desk.get('/account')).text();
    expect(page).toMatch(/[2-9]\d* sign-ins/);
    const answer = await desk.fill('/account', 'Sign out everywhere', {});
    expect(answer.status).toBe(303);
    for (const device of [tablet, desk]) {
      const after = await device.get('/bay/overdue');
      expect([303, 307]).toContain(after.status);
      expect(after.headers.get('location')).toContain('/sign-in');
    }
    await signedInAs(origin, 'jory');
  });

  it('asks who is nobody to sign in', async () => {
    const answer = await new Visitor(origin).get('/account');
    expect(answer.headers.get('location')).toContain('/sign-in');
  });
});

describe('a lost password', () => {
  it('is set anew with a mailed code; a stranger is told the same and mailed nothing', async () => {
    const visitor = new Visitor(origin);
    const ask = (email: string) => visitor.fill('/sign-in/forgot', 'name="email"', { email });
    const stranger = await ask('stranger@tarn.example');
    const known = await ask('jory@tarn.example');
    for (const answer of [stranger, known]) {
      expect(answer.status).toBe(303);
      expect(answer.headers.get('location')).toContain('/sign-in/code?mailed=1');
    }
    await expect.poll(mailed, { timeout: 60_000 }).toMatch(/([0-9A-Z]{5}-){3}[0-9A-Z]{5}/);
    expect(mailed()).not.toContain('stranger@');
    const [code = ''] = /([0-9A-Z]{5}-){3}[0-9A-Z]{5}/.exec(mailed()) ?? [];
    const password = 'demo-only-not-secret';
    const set = await visitor.fill('/sign-in/code', 'name="code"', {
      email: 'jory@tarn.example',
      code,
      password,
    });
    expect(set.status).toBe(303);
    const again = await new Visitor(origin).fill('/sign-in/code', 'name="code"', {
      email: 'jory@tarn.example',
      code,
      password,
    });
    expect(await again.text()).toContain('do not belong together');
  });
});
