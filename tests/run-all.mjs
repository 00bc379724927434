// Everything that must hold, in one command: format, lint, types, build, and every test on the
// embedded database, on a PostgreSQL cluster of the tests' own, and in Chromium.
import { spawnSync } from 'node:child_process';
import { existsSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { install } from './support/install.mjs';

const isComplete = process.argv.includes('--complete');
const chromium =
  process.env.CHROMIUM ?? ['/usr/bin/chromium', '/usr/bin/google-chrome'].find(existsSync);

function step(name, command, args, env) {
  console.log(`\n— ${name}`);
  const { status } = spawnSync(command, args, {
    stdio: 'inherit',
    env: { ...process.env, ...env },
  });
  return status === 0;
}

function need(name, isHere, mend) {
  if (isHere) return true;
  const message = `${name} is not installed: ${mend}`;
  if (isComplete) {
    console.error(message);
    process.exit(1);
  }
  console.warn(`Not run: ${message}`);
  return false;
}

install();
const { postgresPrograms, startCluster } = await import('./support/postgres-cluster.mjs');
const hasPostgres = need(
  'PostgreSQL 15 or later',
  postgresPrograms(),
  "install Debian's postgresql to run the database tests on a server too",
);
const hasChromium = need(
  'Chromium',
  chromium,
  "install Debian's chromium to run the browser journeys",
);

let isSound = step('format and lint', 'npx', ['biome', 'check', '.']);
isSound = step('types', 'npm', ['run', '--silent', 'typecheck']) && isSound;
if (hasChromium) isSound = step('build', 'npm', ['run', '--silent', 'build']) && isSound;

const cluster = hasPostgres ? await startCluster() : null;
const report = join(mkdtempSync(join(tmpdir(), 'idlemark-report-')), 'report.json');
const projects = ['unit', 'database', ...(hasChromium ? ['journeys'] : [])];
try {
  const passed = step(
    `tests: ${projects.join(', ')}`,
    'npx',
    [
      'vitest',
      'run',
      ...projects.flatMap((project) => ['--project', project]),
      '--reporter=default',
      '--reporter=json',
      `--outputFile.json=${report}`,
    ],
    { ...(cluster && { TEST_DATABASE_URL: cluster.url }), ...(chromium && { CHROMIUM: chromium }) },
  );
  isSound = passed && isSound;
} finally {
  await cluster?.stop();
}

const counts = existsSync(report)
  ? JSON.parse(readFileSync(report, 'utf8'))
  : { numPassedTests: 0, numFailedTests: 1, numPendingTests: 0 };
rmSync(report, { force: true });
const failed = Math.max(counts.numFailedTests, isSound ? 0 : 1);
console.log(
  `\n${counts.numPassedTests} passed, ${failed} failed, ${counts.numPendingTests} skipped`,
);
process.exit(isSound && counts.numPassedTests > 0 ? 0 : 1);
