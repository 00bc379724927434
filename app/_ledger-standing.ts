import 'server-only';
import { database } from '@/db/handle';
import { log } from '@/db/log';
import { environment } from './_environment';
import { checkAgainstHeads, type LedgerAgainstHeads } from './_keep-daily-head';

export interface LedgerStanding extends LedgerAgainstHeads {
  readonly checkedAt: Date;
}

const staleAfterMs = 15 * 60_000;

// The bundler loads this module more than once in a process: one standing for all of them.
const key = Symbol.for('idlemark.ledger-standing');
const store = globalThis as {
  [key]?: { known: LedgerStanding | null; running: Promise<LedgerStanding> | null };
};
const memo = () => {
  store[key] ??= { known: null, running: null };
  return store[key];
};

/** Walks the chain against the heads kept elsewhere, and keeps today's head where all is whole. */
export function checkLedgerNow(): Promise<LedgerStanding> {
  const state = memo();
  state.running ??= walk().finally(() => {
    state.running = null;
  });
  return state.running;
}

async function walk(): Promise<LedgerStanding> {
  const checkedAt = new Date();
  const { db } = await database();
  const check = await checkAgainstHeads(db, environment().headsFolder, checkedAt);
  const standing = { ...check, checkedAt };
  memo().known = standing;
  return standing;
}

/** The last check, and a fresh one under way where it has grown old; null before the first has ended. */
export function knownLedgerStanding(): LedgerStanding | null {
  const { known } = memo();
  if (!known || Date.now() - known.checkedAt.getTime() > staleAfterMs) {
    checkLedgerNow().catch((err) => log.error({ err }, 'the ledger could not be checked'));
  }
  return known;
}

/** The last check; waits only for the first. */
export const ledgerStanding = async (): Promise<LedgerStanding> =>
  knownLedgerStanding() ?? checkLedgerNow();
