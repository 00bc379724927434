// One command from a fresh clone to the served demo: install, build, create and fill the embedded
// database, serve. Uses nothing but Node until the packages are there.
import { execFileSync, spawn } from 'node:child_process';
import { existsSync, mkdirSync, renameSync, rmSync } from 'node:fs';
import { createServer } from 'node:net';
import { install } from '../tests/support/install.mjs';

const isFree = (port) =>
  new Promise((resolve) => {
    const probe = createServer();
    probe.once('error', () => resolve(false));
    probe.listen(port, () => probe.close(() => resolve(true)));
  });

async function firstFreePort(from) {
  for (let port = from; port < from + 50; port++) if (await isFree(port)) return port;
  throw new Error(`No port from ${from} to ${from + 49} is free. Set PORT to one that is.`);
}

const run = (command, args, env) =>
  execFileSync(command, args, { stdio: 'inherit', env: { ...process.env, ...env } });

install();
run('npm', ['run', '--silent', 'build']);

const folder = '.data/demo/database';
if (!existsSync(folder)) {
  // Filled aside and moved when whole: a start that was cut off leaves no half-filled fleet.
  rmSync('.data/filling', { recursive: true, force: true });
  mkdirSync('.data/filling', { recursive: true });
  run('npm', ['run', '--silent', 'seed'], {
    IDLEMARK_DATA: '.data/filling/database',
    DATABASE_URL: '',
  });
  mkdirSync('.data/demo', { recursive: true });
  renameSync('.data/filling/database', folder);
}

const port = process.env.PORT ? Number(process.env.PORT) : await firstFreePort(3000);
console.log(`
Idlemark, the demo fleet of the Tarn Water District: http://localhost:${port}

  fleet manager    ines@tarn.example     fleet desk
  technician       tal@tarn.example      River shed
  technician       ode@tarn.example      River and Ridge sheds
  safety officer   rhea@tarn.example
  auditor          moro@tarn.example
  admin            kit@tarn.example
  password of all: demo-only-not-secret

These sign-ins exist only in the demo. Stop with Ctrl+C.
`);
const server = spawn(
  process.execPath,
  ['node_modules/next/dist/bin/next', 'start', '-H', 'localhost', '-p', String(port)],
  {
    stdio: 'inherit',
    env: {
      ...process.env,
      DATABASE_URL: '',
      IDLEMARK_DATA: folder,
      IDLEMARK_DEMO: '1',
      IDLEMARK_ORIGIN: `http://localhost:${port}`,
      NEXT_MANUAL_SIG_HANDLE: 'true',
      PORT: String(port),
    },
  },
);
for (const signal of ['SIGINT', 'SIGTERM']) process.on(signal, () => server.kill('SIGTERM'));
server.on('exit', (code) => process.exit(code ?? 1));
