import { parseArgs } from 'node:util';
import { UnfitBackup } from '@/db/backup/backup-format';
import { backup, type DatabaseAddress, move, restore, told } from './backup';

const usage = `npm run backup -- FILE     write all that the database holds to a new file
npm run restore -- FILE    fill an empty database from it
npm run move -- --to URL   copy the embedded database into an empty one on a PostgreSQL server

DATABASE_URL and IDLEMARK_DATA say which database. Ends with 0; with 1 when nothing was done; with 2
when it was done and the ledger was broken already.
`;

const here: DatabaseAddress = {
  url: process.env.DATABASE_URL || undefined,
  folder: process.env.IDLEMARK_DATA || '.data/database',
};

async function run(command: string | undefined, args: readonly string[]) {
  const now = new Date();
  const { positionals, values } = parseArgs({
    args: [...args],
    options: { to: { type: 'string' } },
    allowPositionals: true,
  });
  const [file] = positionals;
  if (command === 'backup' && file) return backup(here, file, now);
  if (command === 'restore' && file) return restore(here, file);
  if (command === 'move' && /^postgres(ql)?:\/\//.test(values.to ?? '')) {
    return move({ folder: here.folder }, { url: values.to, folder: '' }, now);
  }
  return null;
}

const said = (error: unknown): boolean =>
  error instanceof UnfitBackup || (error instanceof Error && 'code' in error);

try {
  const [command, ...args] = process.argv.slice(2);
  const closing = await run(command, args);
  if (!closing) {
    process.stderr.write(usage);
    process.exitCode = 1;
  } else {
    console.log(told(closing));
    if (closing.ledger.faults > 0) process.exitCode = 2;
  }
} catch (error) {
  console.error(said(error) && error instanceof Error ? error.message : error);
  process.exitCode = 1;
}
