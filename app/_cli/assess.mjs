import { createHash } from 'node:crypto';
import { existsSync, readdirSync, renameSync, rmSync, statSync } from 'node:fs';
import { fileURLToPath, pathToFileURL } from 'node:url';

const root = fileURLToPath(new URL('../..', import.meta.url));

/** A folder for each state of the sources: starting from TypeScript costs more than judging a fleet. */
function bundleFolder() {
  const stamps = createHash('sha256');
  for (const folder of ['lib', 'app/_cli']) {
    for (const path of readdirSync(`${root}${folder}`, {
      recursive: true,
      encoding: 'utf8',
    }).sort()) {
      if (!path.endsWith('.ts')) continue;
      const { mtimeMs, size } = statSync(`${root}${folder}/${path}`);
      stamps.update(`${folder}/${path} ${mtimeMs} ${size}\n`);
    }
  }
  return `${root}node_modules/.cache/idlemark/assess-${stamps.digest('hex').slice(0, 16)}`;
}

async function bundled() {
  const folder = bundleFolder();
  if (existsSync(folder)) return folder;
  const { build } = await import('esbuild');
  const unfinished = `${folder}.${process.pid}`;
  await build({
    absWorkingDir: root,
    entryPoints: ['app/_cli/assess.ts', 'app/_cli/judge-worker.ts'],
    outdir: unfinished,
    outExtension: { '.js': '.mjs' },
    bundle: true,
    splitting: true,
    platform: 'node',
    format: 'esm',
    target: 'node20',
    alias: { '@': root.replace(/[\\/]$/, '') },
    logLevel: 'error',
  });
  try {
    renameSync(unfinished, folder);
  } catch (error) {
    // Another process was first: its bundle is the same.
    rmSync(unfinished, { recursive: true });
    if (!existsSync(folder)) throw error;
  }
  return folder;
}

const { assess } = await import(pathToFileURL(`${await bundled()}/assess.mjs`).href);
const now = new Date();
const isWatched = process.stderr.isTTY === true;

process.stdout.on('error', (error) => {
  if (error.code !== 'EPIPE') throw error;
});
process.exitCode = await assess(process.argv.slice(2), {
  today: Math.floor(Date.UTC(now.getFullYear(), now.getMonth(), now.getDate()) / 86_400_000),
  out: (text) => process.stdout.write(text),
  problem: (text) => process.stderr.write(text),
  progress: (text) => {
    if (isWatched) process.stderr.write(`\r\u001B[K${text}`);
  },
});
