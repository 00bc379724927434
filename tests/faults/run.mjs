// The faults on a PostgreSQL cluster of their own, against the built product. --long asks for the
// figures that were promised, soaks for half an hour, and writes what was found into the document;
// names after it narrow it to some, such as --long soak.
import { spawn } from 'node:child_process';
import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { startCluster } from '../support/postgres-cluster.mjs';

const isLong = process.argv.includes('--long');
const named = process.argv.slice(2).filter((name) => !name.startsWith('--'));
const document = 'docs/reliability.md';
const marks = ['<!-- figures of the long run -->', '<!-- end of the figures -->'];

/** Side by side in the long run, which waits for most of its hours: one list of files a process. */
const allParts = [
  ['database', 'tests/faults/'],
  ['served', 'tests/faults/served/application-killed'],
  [
    'served',
    'tests/faults/served/network',
    'tests/faults/served/soak',
    'tests/faults/served/odd-input',
  ],
];
const parts = named.length === 0 ? allParts : [['*', ...named]];

function run(command, args, env = {}) {
  const child = spawn(command, args, { stdio: 'inherit', env: { ...process.env, ...env } });
  return new Promise((resolve) => child.once('close', (code) => resolve(code === 0)));
}

/** A row for each fault, with the day it was last tried at full length. */
function writeFigures(file) {
  const lines = existsSync(file) ? readFileSync(file, 'utf8').trim().split('\n') : [];
  const text = readFileSync(document, 'utf8');
  const [from, to] = marks.map((mark) => text.indexOf(mark));
  if (from < 0 || to < from) throw new Error(`${document} has lost the marks of its figures`);
  const written = text
    .slice(from, to)
    .split('\n')
    .filter((line) => /^\| .* \| \d{4}-/.test(line));
  const rows = new Map(written.map((row) => [row.split(' | ')[0].slice(2), row]));
  const today = new Date().toISOString().slice(0, 10);
  for (const { test, figures } of lines.filter(Boolean).map((line) => JSON.parse(line)))
    rows.set(test, `| ${test} | ${figures} | ${today} |`);
  const table = ['| Fault | Found | On |', '|---|---|---|', ...[...rows.values()].sort()];
  writeFileSync(
    document,
    `${text.slice(0, from)}${marks[0]}\n${table.join('\n')}\n${text.slice(to)}`,
  );
}

if (!existsSync('.next/BUILD_ID') && !(await run('npm', ['run', '--silent', 'build'])))
  process.exit(1);
const folder = mkdtempSync(join(tmpdir(), 'idlemark-fault-figures-'));
const figures = join(folder, 'figures.jsonl');
const cluster = await startCluster();
let isSound = false;
try {
  const env = {
    TEST_DATABASE_URL: cluster.url,
    ...(isLong && { FAULTS: 'long', FAULT_FIGURES: figures }),
  };
  const vitest = (...files) => run('npx', ['vitest', 'run', ...files], env);
  isSound = isLong
    ? (
        await Promise.all(
          parts.map(([project, ...files]) => vitest('--project', project, ...files)),
        )
      ).every(Boolean)
    : await vitest('tests/faults');
  if (isLong) writeFigures(figures);
} finally {
  await cluster.stop();
  rmSync(folder, { recursive: true, force: true });
}
process.exit(isSound ? 0 : 1);
