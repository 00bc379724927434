import { type ChildProcess, execFileSync, spawn } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { TestProject } from 'vitest/node';
import { freePort } from './free-port.mjs';

declare module 'vitest' {
  interface ProvidedContext {
    origin: string;
  }
}

async function untilReady(origin: string, server: ChildProcess): Promise<void> {
  for (let attempt = 0; attempt < 300; attempt++) {
    if (server.exitCode !== null) throw new Error(`the product ended with code ${server.exitCode}`);
    const answer = await fetch(`${origin}/health/ready`).catch(() => null);
    if (answer?.ok) return;
    await new Promise((resolve) => setTimeout(resolve, 200));
  }
  throw new Error('the product was not ready within 60 seconds');
}

/** Serves the built product on a demo fleet of its own for the browser journeys. */
export default async function setup(project: TestProject): Promise<() => Promise<void>> {
  const folder = mkdtempSync(join(tmpdir(), 'idlemark-journeys-'));
  const port = await freePort();
  const origin = `http://localhost:${port}`;
  const { DATABASE_URL: _, ...inherited } = process.env;
  const env = {
    ...inherited,
    NODE_ENV: 'production' as const,
    IDLEMARK_DATA: join(folder, 'database'),
    IDLEMARK_DEMO: '1',
    IDLEMARK_ORIGIN: origin,
    NEXT_MANUAL_SIG_HANDLE: 'true',
    PORT: String(port),
  };
  execFileSync('npm', ['run', '--silent', 'seed'], { env, stdio: 'inherit' });
  const server = spawn(
    process.execPath,
    ['node_modules/next/dist/bin/next', 'start', '-H', 'localhost', '-p', String(port)],
    {
      env,
      stdio: ['ignore', 'ignore', 'inherit'],
    },
  );
  await untilReady(origin, server);
  project.provide('origin', origin);
  return async () => {
    server.kill('SIGTERM');
    await new Promise((resolve) => server.once('exit', resolve));
    rmSync(folder, { recursive: true, force: true });
  };
}
