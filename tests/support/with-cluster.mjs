// Runs a command with TEST_DATABASE_URL set to a PostgreSQL cluster of its own:
// node tests/support/with-cluster.mjs npx vitest run --project database
import { spawnSync } from 'node:child_process';
import { startCluster } from './postgres-cluster.mjs';

const [command, ...args] = process.argv.slice(2);
if (!command) {
  console.error('usage: node tests/support/with-cluster.mjs COMMAND [ARGUMENT...]');
  process.exit(1);
}
const cluster = await startCluster();
let status = 1;
try {
  const env = { ...process.env, TEST_DATABASE_URL: cluster.url };
  status = spawnSync(command, args, { stdio: 'inherit', env }).status ?? 1;
} finally {
  await cluster.stop();
}
process.exit(status);
