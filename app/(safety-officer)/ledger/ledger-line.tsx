import type { LedgerStanding } from '@/app/_ledger-standing';
import { Banner } from '@/app/_ui/banner';
import { moment } from '@/app/_ui/format';

interface LedgerLineProps {
  readonly standing: LedgerStanding;
  readonly timeZone: string;
}

/** How the chain stood at its last check. */
export function LedgerLine({ standing, timeZone }: LedgerLineProps) {
  const { entries, faults, checkedAt } = standing;
  const [first] = faults;
  const at = moment(checkedAt, timeZone);
  if (!first) {
    return (
      <p className="small mute">
        Ledger checked to entry {entries.toLocaleString('en-US')} at {at}, unbroken
      </p>
    );
  }
  return (
    <Banner kind="alarm">
      Broken at entry {first.entry} ({first.fault}), checked at {at}. Entries from there on prove
      nothing. Keep the database as it is and call the administrator.
    </Banner>
  );
}
