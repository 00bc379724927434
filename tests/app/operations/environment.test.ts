import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';

const names = [
  'DATABASE_URL',
  'IDLEMARK_SECRET',
  'IDLEMARK_ORIGIN',
  'IDLEMARK_SMTP',
  'IDLEMARK_MAIL_FROM',
  'IDLEMARK_DEMO',
  'IDLEMARK_LOG_LEVEL',
  'IDLEMARK_METRICS_TOKEN',
  'PORT',
];
beforeEach(() => {
  vi.resetModules();
  for (const name of names) vi.stubEnv(name, '');
});
// It is read once a process: each test reads its own, and so does the next file.
afterEach(() => {
  vi.unstubAllEnvs();
  vi.resetModules();
});

async function read(variables: Readonly<Record<string, string>>) {
  for (const [name, value] of Object.entries(variables)) vi.stubEnv(name, value);
  const { environment } = await import('@/app/_environment');
  return environment();
}
const server = { DATABASE_URL: 'postgres://localhost/fleet', IDLEMARK_SECRET: 'x'.repeat(32) };

describe('the environment', () => {
  it.each([
    [{ DATABASE_URL: 'mysql://localhost/fleet' }, 'DATABASE_URL must begin with postgres://'],
    [{ ...server, IDLEMARK_SECRET: 'short' }, 'IDLEMARK_SECRET must have at least 32 characters'],
    [{ ...server, IDLEMARK_SECRET: '' }, 'IDLEMARK_SECRET is needed with DATABASE_URL'],
    [{ IDLEMARK_ORIGIN: 'brakes' }, 'IDLEMARK_ORIGIN must be the address that people open'],
    [{ IDLEMARK_SMTP: 'mail.example' }, 'IDLEMARK_SMTP must begin with smtp://'],
    [{ IDLEMARK_SMTP: 'smtp://mail.example' }, 'IDLEMARK_MAIL_FROM is needed with IDLEMARK_SMTP'],
    [{ IDLEMARK_DEMO: 'yes' }, 'IDLEMARK_DEMO '],
    [{ IDLEMARK_METRICS_TOKEN: 'short' }, 'IDLEMARK_METRICS_TOKEN must have at least 32'],
    [{ PORT: '70000' }, 'PORT '],
    [{ PORT: 'http' }, 'PORT '],
  ])('%o is refused with the name and the fault', async (variables, said) => {
    await expect(read(variables)).rejects.toThrow(`The environment is not usable:\n  ${said}`);
  });

  it('tells every fault at once, a line each', async () => {
    const error = await read({ PORT: '0', IDLEMARK_DEMO: 'yes' }).catch((caught) => caught);
    expect(String(error.message).split('\n')).toEqual([
      'The environment is not usable:',
      expect.stringMatching(/^ {2}IDLEMARK_DEMO /),
      expect.stringMatching(/^ {2}PORT /),
    ]);
  });

  it('takes a variable set to nothing as not set', async () => {
    expect(await read({ ...server, PORT: '' })).toMatchObject({
      databaseUrl: server.DATABASE_URL,
      secret: server.IDLEMARK_SECRET,
      origin: 'http://localhost:3000',
      isDemo: false,
      mail: null,
    });
  });
});
