import { closeDatabase, database } from '@/db/handle';
import { sweepFleet } from '@/db/record/sweep';
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

const quarterOfAnHour = 15 * 60_000;
const isNight = (now: Date) => now.getHours() >= 1 && now.getHours() < 5;

/** A sweep that fails is tried again a quarter of an hour later; the verdicts keep their date till then. */
async function sweep(): Promise<void> {
  const now = new Date();
  try {
    await sweepFleet((await database()).db, now, { learns: isNight(now) });
  } catch (error) {
    console.error('The sweep failed:', error instanceof Error ? error.message : error);
  }
}
setTimeout(sweep, 10_000).unref();
setInterval(sweep, quarterOfAnHour).unref();

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
