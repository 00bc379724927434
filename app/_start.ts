import { closeDatabase, database } from '@/db/handle';
import { forgetOldImports } from '@/db/imports/keep-file';
import { log } from '@/db/log';
import { sweepFleet } from '@/db/record/sweep';
import { roundsByQueue, roundsByTimer } from '@/db/rounds';
import { issueFirstRunCode } from '@/db/writes/issue-first-run-code';
import { environment } from './_environment';
import { keepDailyHead } from './_keep-daily-head';
import { countAnswer, metrics } from './_metrics';
import { watchRequests } from './_watch-requests';

/** A server that only answers 500 helps nobody. The person at the terminal reads no log lines. */
function endStart(error: unknown): never {
  process.stderr.write(`${error instanceof Error ? error.message : error}\n`);
  process.exit(1);
}

try {
  const { origin } = environment();
  const code = await issueFirstRunCode((await database()).db, new Date());
  if (code)
    process.stderr.write(
      `Nobody is on record. Make the first admin at ${origin}/first-run\nCode: ${code}\n`,
    );
} catch (error) {
  endStart(error);
}

// The framework prints uncaught errors whole, with whatever values they quote.
if (process.env.NODE_ENV === 'production') {
  console.error = (...parts) =>
    log.error({ err: parts.find((part) => part instanceof Error) }, 'the framework told an error');
}

const requests = watchRequests((answered) => {
  countAnswer(answered);
  log.info(answered, 'request');
});

const isNight = (now: Date) => now.getHours() >= 1 && now.getHours() < 5;

/** Until a sweep that failed is tried again the verdicts keep their date. */
async function sweep(): Promise<void> {
  const now = new Date();
  const { sweepSeconds, sweptAt, sweepFailures } = metrics();
  try {
    const { db } = await database();
    const swept = await sweepFleet(db, now, { learns: isNight(now) });
    await forgetOldImports(db, now);
    const ms = Date.now() - now.getTime();
    sweepSeconds.set(ms / 1000);
    sweptAt.setToCurrentTime();
    log.info({ ...swept, ms }, 'sweep');
  } catch (err) {
    sweepFailures.inc();
    throw err;
  }
}

/** Tried each quarter of an hour until the day's head is kept. */
async function keepHead(): Promise<void> {
  const { headsFolder } = environment();
  const check = await keepDailyHead((await database()).db, headsFolder, new Date());
  const faults = check ? check.faults.length + check.spoiltHeads.length : 0;
  if (faults > 0) log.fatal({ faults }, 'the ledger is broken: no head is kept today');
}

const rounds = {
  everyS: 15 * 60,
  firstAfterMs: 10_000,
  rounds: [
    { name: 'sweep', run: sweep },
    { name: 'ledger-head', run: keepHead },
  ],
};
const { databaseUrl } = environment();
const stopRounds = databaseUrl
  ? await roundsByQueue(databaseUrl, rounds).catch(endStart)
  : roundsByTimer(rounds);

/** Most supervisors wait ten seconds before they kill. */
const drainAtMostMs = 8_000;

const stop = () => {
  requests
    .drain(drainAtMostMs)
    .then((left) => {
      if (left > 0) log.warn({ left }, 'stopping with requests unanswered');
      return stopRounds();
    })
    .then(closeDatabase)
    .then(
      () => process.exit(0),
      (err) => {
        log.fatal({ err }, 'the database did not close cleanly');
        process.exit(1);
      },
    );
};
if (process.env.NEXT_MANUAL_SIG_HANDLE) {
  process.once('SIGTERM', stop);
  process.once('SIGINT', stop);
}
