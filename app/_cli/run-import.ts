import { openDatabase } from '@/db/client';
import { UnreadableFile } from '@/db/imports/csv-records';
import { AccessDenied } from '@/lib/access';
import { importBulletinFile } from './import-bulletin-file';
import { importFile } from './import-file';
import { importOptions, importUsage } from './import-options';
import { NotImported } from './person-acting';

const options = importOptions(process.argv.slice(2));
if (!options.ok) {
  process.stderr.write(`${options.error}\n\n${importUsage}`);
  process.exit(1);
}
const open = await openDatabase({
  url: process.env.DATABASE_URL || undefined,
  folder: process.env.IDLEMARK_DATA || '.data/database',
});
try {
  const { kind, ...rest } = options.value;
  const { said, code } =
    kind === 'bulletins'
      ? await importBulletinFile(open.db, rest, new Date())
      : await importFile(open, { kind, ...rest }, new Date());
  console.log(said);
  process.exitCode = code;
} catch (error) {
  const isExpected =
    error instanceof NotImported ||
    error instanceof UnreadableFile ||
    error instanceof AccessDenied ||
    (error instanceof Error && 'code' in error);
  console.error(isExpected && error instanceof Error ? error.message : error);
  process.exitCode = 1;
} finally {
  await open.close();
}
