import pg from 'pg';
import PgBoss from 'pg-boss';
import { log } from './log';

/** Instances that start together take turns: the queue's own tables are made once, without deadlock. */
const startLock = 74_120_314;

export interface Round {
  readonly name: string;
  /** Throws where it failed, so that the queue gives it to an instance again. */
  run(): Promise<void>;
}

interface Rounds {
  readonly everyS: number;
  readonly firstAfterMs: number;
  readonly rounds: readonly Round[];
}

const runTold = async ({ name, run }: Round): Promise<void> => {
  try {
    await run();
  } catch (err) {
    log.error({ err, round: name }, 'a round failed');
    throw err;
  }
};

/** For a database of one process: timers, each round after the one before it. */
export function roundsByTimer({ everyS, firstAfterMs, rounds }: Rounds): () => void {
  const all = async () => {
    for (const round of rounds) await runTold(round).catch(() => {});
  };
  const first = setTimeout(all, firstAfterMs).unref();
  const every = setInterval(all, everyS * 1000).unref();
  return () => {
    clearTimeout(first);
    clearInterval(every);
  };
}

/**
 * For several instances on one server: each asks for every round, the queue takes one job of a name
 * in a span of `everyS` and gives it to one of them. The queue lives in a schema of its own, made by
 * the role of `url`, which owns the product's schema too.
 */
export async function roundsByQueue(
  url: string,
  { everyS, firstAfterMs, rounds, retryDelayS = 60 }: Rounds & { readonly retryDelayS?: number },
): Promise<() => Promise<void>> {
  const boss = new PgBoss({
    connectionString: url,
    schema: 'idlemark_jobs',
    max: 2,
    schedule: false,
  });
  boss.on('error', (err) => log.error({ err }, 'the queue of jobs failed'));
  const turn = new pg.Client({ connectionString: url, connectionTimeoutMillis: 10_000 });
  await turn.connect();
  try {
    await turn.query('select pg_advisory_lock($1)', [startLock]);
    await boss.start();
    for (const { name } of rounds) await boss.createQueue(name);
  } finally {
    await turn.end();
  }
  for (const round of rounds) {
    await boss.work(round.name, { pollingIntervalSeconds: 2 }, () => runTold(round));
  }
  const askFor = async () => {
    for (const { name } of rounds) {
      await boss.send(
        name,
        {},
        { singletonSeconds: everyS, retryLimit: 2, retryDelay: retryDelayS },
      );
    }
  };
  const ask = () => {
    askFor().catch((err) => log.error({ err }, 'a round could not be asked for'));
  };
  const first = setTimeout(ask, firstAfterMs).unref();
  const every = setInterval(ask, everyS * 1000).unref();
  return async () => {
    clearTimeout(first);
    clearInterval(every);
    await boss.stop({ graceful: true, timeout: 5_000 });
  };
}
