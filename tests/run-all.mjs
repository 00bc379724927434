// Everything that must hold, in one command: format, lint, types, build, and every test on the
// embedded database, on a PostgreSQL cluster of the tests' own, and in Chromium.
import { spawn, spawnSync } from 'node:child_process';
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

/** Asks the registry for known weaknesses of what is shipped; not every registry answers. */
function auditDependencies() {
  console.log('\n— dependencies');
  const { stdout } = spawnSync('npm', ['audit', '--omit=dev', '--json'], { encoding: 'utf8' });
  let found;
  try {
    found = JSON.parse(stdout).metadata?.vulnerabilities;
  } catch {
    // The answer is no report at all.
  }
  if (!found) {
    console.warn('Not audited: the registry gives no answer.');
    return true;
  }
  console.log(`${found.total} known weaknesses, ${found.high + found.critical} of them high`);
  return found.high + found.critical === 0;
}

let isSound = auditDependencies();
isSound = step('format and lint', 'npx', ['biome', 'check', '.']) && isSound;
isSound = step('types', 'npm', ['run', '--silent', 'typecheck']) && isSound;

const cluster = hasPostgres ? await startCluster() : null;
const folder = mkdtempSync(join(tmpdir(), 'idlemark-reports-'));
const testEnvironment = {
  ...process.env,
  ...(cluster && { TEST_DATABASE_URL: cluster.url }),
  ...(chromium && { CHROMIUM: chromium }),
};

/** Runs a command beside others; what is told apart is shown whole at its end. */
async function beside(command, args, isToldApart) {
  const stdio = ['ignore', isToldApart ? 'pipe' : 'inherit', 'inherit'];
  const run = spawn(command, args, { stdio, env: testEnvironment });
  const told = [];
  run.stdout?.on('data', (chunk) => told.push(chunk));
  const code = await new Promise((resolve) => run.once('close', resolve));
  process.stdout.write(Buffer.concat(told));
  return code === 0;
}

const noReport = { numPassedTests: 0, numFailedTests: 1, numPendingTests: 0, testResults: [] };

async function runTests(projects, isToldApart) {
  const report = join(folder, `${projects[0]}.json`);
  const args = ['run', ...projects.flatMap((project) => ['--project', project])];
  const reporters = ['--reporter=default', '--reporter=json', `--outputFile.json=${report}`];
  const isSound = await beside('npx', ['vitest', ...args, ...reporters], isToldApart);
  const counts = existsSync(report) ? JSON.parse(readFileSync(report, 'utf8')) : noReport;
  return { isSound, ...counts };
}

/** Tests of the built product, once it is built. */
async function runOnBuilt(build, projects, isToldApart) {
  if (await build) return runTests(projects, isToldApart);
  console.log(`The build failed: not run: ${projects.join(', ')}.`);
  return { isSound: false, ...noReport };
}

/** Two lines of tests beside each other: two cores. Their lengths are about the same. */
async function runAll() {
  const build = beside('npm', ['run', '--silent', 'build'], true);
  const lines = await Promise.all([
    runTests(['unit', 'database'], false).then(async (first) => [
      first,
      await runOnBuilt(build, ['served'], false),
    ]),
    hasChromium ? runOnBuilt(build, ['journeys'], true).then((journeys) => [journeys]) : [],
  ]);
  return lines.flat();
}

/** What failed, again at the very end: the runs before it fill thousands of lines. */
function tellFailures({ testResults }) {
  for (const { name, message, assertionResults } of testResults) {
    if (message) console.log(`\nFailed: ${name}\n${message}`);
    for (const { status, fullName, failureMessages } of assertionResults)
      if (status === 'failed')
        console.log(`\nFailed: ${name}\n  ${fullName}\n${failureMessages.join('\n')}`);
  }
}

let results = [];
try {
  console.log('\n— tests: unit, database and faults; the build, and what it serves, beside them');
  results = await runAll();
} finally {
  await cluster?.stop();
  rmSync(folder, { recursive: true, force: true });
}

results.forEach(tellFailures);
const sum = (of) => results.reduce((total, result) => total + of(result), 0);
isSound = isSound && results.length > 0 && results.every((result) => result.isSound);
const passed = sum(({ numPassedTests }) => numPassedTests);
const failed = Math.max(
  sum(({ numFailedTests }) => numFailedTests),
  isSound ? 0 : 1,
);
console.log(
  `\n${passed} passed, ${failed} failed, ${sum(({ numPendingTests }) => numPendingTests)} skipped`,
);
process.exit(isSound && passed > 0 ? 0 : 1);
