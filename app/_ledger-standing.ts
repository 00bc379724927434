import 'server-only';
import { database } from '@/db/handle';
import { checkLedger, type LedgerCheck } from '@/db/ledger';
import { environment } from './_environment';
import { keepHead, newestHead } from './_ledger-heads';

export interface LedgerStanding extends LedgerCheck {
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

/** Walks the chain, against the newest head kept elsewhere, and keeps today's head where all is whole. */
export function checkLedgerNow(): Promise<LedgerStanding> {
  const state = memo();
  state.running ??= walk().finally(() => {
    state.running = null;
  });
  return state.running;
}

async function walk(): Promise<LedgerStanding> {
  const { headsFolder } = environment();
  const { db } = await database();
  const expected = newestHead(headsFolder) ?? undefined;
  const check = await checkLedger(db, expected);
  const standing = { ...check, checkedAt: new Date() };
  memo().known = standing;
  if (check.faults.length === 0 && check.head !== null) {
    keepHead(headsFolder, { entry: check.entries, hash: check.head }, standing.checkedAt);
  }
  return standing;
}

/** The last check, and a fresh one under way where it has grown old; null before the first has ended. */
export function knownLedgerStanding(): LedgerStanding | null {
  const { known } = memo();
  if (!known || Date.now() - known.checkedAt.getTime() > staleAfterMs) {
    checkLedgerNow().catch((error) => console.error('The ledger could not be checked:', error));
  }
  return known;
}

/** The last check; waits only for the first. */
export const ledgerStanding = async (): Promise<LedgerStanding> =>
  knownLedgerStanding() ?? checkLedgerNow();
