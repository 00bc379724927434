import { type ChildProcess, execFileSync, spawn } from 'node:child_process';
import { openSync } from 'node:fs';
import { freePort } from './free-port.mjs';

export interface Served {
  readonly origin: string;
  pid(): number;
  /** Ends it as a failing machine would: at once, whatever it is doing. */
  kill(): Promise<void>;
  /** Starts it again on the same database, once it has ended. */
  start(): Promise<void>;
  stop(): Promise<void>;
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

interface ServeOptions {
  /** Of the demo fleet; 0 serves an empty database, as somebody's first start does. */
  readonly units?: number;
  readonly logFile?: string;
  /** File to which what the server tells the person at its terminal is added. */
  readonly terminalFile?: string;
}

/** Serves the built product on a demo fleet of its own, in the database that `place` names. */
export async function serveProduct(
  place: Readonly<Record<string, string>>,
  { units = 120, logFile, terminalFile }: ServeOptions = {},
): Promise<Served> {
  const port = await freePort();
  const origin = `http://localhost:${port}`;
  const { DATABASE_URL: _, ...inherited } = process.env;
  const env = {
    ...inherited,
    NODE_ENV: 'production' as const,
    ...(units > 0 && { IDLEMARK_DEMO: '1' }),
    IDLEMARK_ORIGIN: origin,
    NEXT_MANUAL_SIG_HANDLE: 'true',
    PORT: String(port),
    ...place,
  };
  if (units > 0) {
    execFileSync('npm', ['run', '--silent', 'seed', '--', '--units', String(units)], {
      env,
      stdio: 'inherit',
    });
  }
  let server: ChildProcess;
  const start = async () => {
    server = spawn(
      process.execPath,
      [
        'node_modules/next/dist/bin/next',
        ...['start', '-H', 'localhost', '-p', String(port), '--keepAliveTimeout', '75000'],
      ],
      {
        env,
        stdio: [
          'ignore',
          logFile ? openSync(logFile, 'a') : 'ignore',
          terminalFile ? openSync(terminalFile, 'a') : 'inherit',
        ],
      },
    );
    await untilReady(origin, server);
  };
  const end = (signal: 'SIGTERM' | 'SIGKILL') => async () => {
    const ended = new Promise((resolve) => server.once('exit', resolve));
    server.kill(signal);
    await ended;
  };
  await start();
  return {
    origin,
    pid: () => server.pid ?? 0,
    kill: end('SIGKILL'),
    start,
    stop: end('SIGTERM'),
  };
}
