import { closeDatabase, database } from '@/db/handle';
import { issueFirstRunCode } from '@/db/writes/issue-first-run-code';
import { environment } from './_environment';

// A fault at the start ends the process: a server that only answers 500 helps nobody.
try {
  const { origin } = environment();
  const code = await issueFirstRunCode((await database()).db, new Date());
  if (code)
    console.log(`Nobody is on record. Make the first admin at ${origin}/first-run\nCode: ${code}`);
} catch (error) {
  console.error(error instanceof Error ? error.message : error);
  process.exit(1);
}

const stop = () => {
  closeDatabase().then(
    () => process.exit(0),
    (error) => {
      console.error('The database did not close cleanly:', error);
      process.exit(1);
    },
  );
};
if (process.env.NEXT_MANUAL_SIG_HANDLE) {
  process.once('SIGTERM', stop);
  process.once('SIGINT', stop);
}
