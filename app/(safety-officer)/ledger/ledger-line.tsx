import type { LedgerStanding } from '@/app/_ledger-standing';
import { Banner } from '@/app/_ui/banner';
import { moment } from '@/app/_ui/format';

interface LedgerLineProps {
  readonly standing: LedgerStanding;
  readonly timeZone: string;
}

const otherDatabase =
  'Either entries were written anew or cut off, or this is not the database of which heads were kept: an older copy, or one filled anew.';

/** How the chain stood at its last check. */
export function LedgerLine({ standing, timeZone }: LedgerLineProps) {
  const { entries, faults, headsHeld, spoiltHeads, checkedAt } = standing;
  const [first] = faults;
  const at = moment(checkedAt, timeZone);
  if (!first && spoiltHeads.length > 0) {
    return (
      <Banner kind="alarm">
        The head kept in {spoiltHeads.join(', ')} cannot be read, checked at {at}. Fetch it from its
        copy and call the administrator.
      </Banner>
    );
  }
  if (!first) {
    const heads = headsHeld === 1 ? '1 kept head' : `${headsHeld} kept heads`;
    return (
      <p className="small mute">
        Ledger checked to entry {entries.toLocaleString('en-US')} at {at}, unbroken,{' '}
        {headsHeld === 0 ? 'no head kept elsewhere yet' : `true to ${heads}`}
      </p>
    );
  }
  const isOfKeptHead = first.fault === 'kept head differs' || first.entry > entries;
  return (
    <Banner kind="alarm">
      Broken at entry {first.entry} ({first.fault}), checked at {at}. Entries from there on prove
      nothing. {isOfKeptHead && otherDatabase} Keep the database as it is and call the
      administrator.
    </Banner>
  );
}
