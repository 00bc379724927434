import 'server-only';
import { Banner } from '@/app/_ui/banner';
import { knownLedgerStanding } from './_ledger-standing';

/** On every page while the ledger is broken, and nothing otherwise. */
export function LedgerAlarm() {
  const fault = knownLedgerStanding()?.faults[0];
  if (!fault) return null;
  return <Banner kind="alarm">The ledger is broken at entry {fault.entry}.</Banner>;
}
