import { execFileSync, spawn } from 'node:child_process';
import { chownSync, existsSync, mkdtempSync, readdirSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { freePort } from './free-port.mjs';

/** Folder of the newest installed PostgreSQL server's programs, or null. */
export function postgresPrograms() {
  const debian = '/usr/lib/postgresql';
  const versions = existsSync(debian)
    ? readdirSync(debian).sort((a, b) => Number(b) - Number(a))
    : [];
  const folders = [...versions.map((v) => join(debian, v, 'bin')), '/usr/local/pgsql/bin'];
  return folders.find((folder) => existsSync(join(folder, 'initdb'))) ?? null;
}

/** The server refuses to run as root: root borrows an unprivileged account for it. */
function unprivileged() {
  if (process.getuid?.() !== 0) return {};
  for (const name of ['postgres', 'nobody']) {
    try {
      const uid = Number(execFileSync('id', ['-u', name], { stdio: ['ignore', 'pipe', 'ignore'] }));
      const gid = Number(execFileSync('id', ['-g', name], { stdio: ['ignore', 'pipe', 'ignore'] }));
      return { uid, gid };
    } catch {
      // No such account here; the next one may exist.
    }
  }
  throw new Error(
    'root cannot run PostgreSQL, and neither "postgres" nor "nobody" is an account here',
  );
}

/**
 * A cluster of the tests' own in a temporary folder, or in one given, on loopback and a free port.
 * @param {{ within?: string, settings?: readonly string[] }} [where]
 * @returns {Promise<{ url: string, pid: () => number, kill: () => void, start: () => Promise<void>, stop: () => Promise<void> }>}
 */
export async function startCluster({ within = tmpdir(), settings: more = [] } = {}) {
  const programs = postgresPrograms();
  if (!programs) throw new Error('no PostgreSQL server is installed');
  const owner = unprivileged();
  const folder = mkdtempSync(join(within, 'idlemark-cluster-'));
  if (owner.uid !== undefined) chownSync(folder, owner.uid, owner.gid);
  const cluster = join(folder, 'cluster');
  const as = { ...owner, cwd: folder, env: { PATH: process.env.PATH, LC_ALL: 'C.UTF-8' } };
  execFileSync(
    join(programs, 'initdb'),
    ['-D', cluster, '-U', 'idlemark', '-A', 'trust', '-E', 'UTF8', '--no-instructions'],
    { ...as, stdio: 'pipe' },
  );
  const port = await freePort();
  const url = `postgresql://idlemark@127.0.0.1:${port}/postgres`;
  let server;

  const start = async () => {
    const flags = ['-D', cluster, '-p', String(port), '-k', folder];
    const settings = [
      ...['listen_addresses=127.0.0.1', 'max_connections=200', 'shared_buffers=128MB'],
      ...more,
    ];
    server = spawn(
      join(programs, 'postgres'),
      [...flags, ...settings.flatMap((setting) => ['-c', setting])],
      { ...as, stdio: 'ignore' },
    );
    for (let attempt = 0; attempt < 150; attempt++) {
      try {
        execFileSync(
          join(programs, 'pg_isready'),
          ['-q', '-h', '127.0.0.1', '-p', String(port)],
          as,
        );
        return;
      } catch {
        // Not accepting connections yet.
        await new Promise((resolve) => setTimeout(resolve, 200));
      }
    }
    throw new Error('PostgreSQL did not start within 30 seconds');
  };
  const ended = () =>
    server.exitCode !== null || server.signalCode !== null
      ? Promise.resolve()
      : new Promise((resolve) => server.once('exit', resolve));
  await start();
  return {
    url,
    pid: () => server.pid,
    kill: () => server.kill('SIGKILL'),
    start: async () => {
      await ended();
      await start();
    },
    stop: async () => {
      server.kill('SIGINT');
      await ended();
      rmSync(folder, { recursive: true, force: true });
    },
  };
}
