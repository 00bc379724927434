import 'server-only';
import { Banner } from '@/app/_ui/banner';
import { knownLedgerStanding } from './_ledger-standing';

/** On every page while the ledger is broken, and nothing otherwise. */
export function LedgerAlarm() {
  const standing = knownLedgerStanding();
  const fault = standing?.faults[0];
  const spoilt = standing?.spoiltHeads[0];
  if (fault) return <Banner kind="alarm">The ledger is broken at entry {fault.entry}.</Banner>;
  if (!spoilt) return null;
  return <Banner kind="alarm">The kept head {spoilt} of the ledger cannot be read.</Banner>;
}
