import { moment } from '@/app/_ui/format';
import { Link } from '@/app/_ui/link';
import { Panel } from '@/app/_ui/panel';
import { database } from '@/db/handle';
import { unitSheetHistory } from '@/db/reads/unit-sheet-history';
import styles from './unit-sheet.module.css';

interface HistoryPanelProps {
  readonly unitId: string;
  readonly timeZone: string;
  readonly maySeeLedger: boolean;
}

export async function HistoryPanel({ unitId, timeZone, maySeeLedger }: HistoryPanelProps) {
  const entries = await unitSheetHistory((await database()).db, unitId);
  return (
    <Panel
      title="History"
      aside={maySeeLedger && <Link href={`/ledger?unit=${unitId}`}>In the ledger</Link>}
    >
      {entries.length === 0 ? (
        <p>Nothing on record yet.</p>
      ) : (
        <ul className={styles.history}>
          {entries.map(({ at, what, by, entry }) => (
            <li key={`${at.toISOString()} ${entry} ${what}`}>
              <span className="mute">{moment(at, timeZone)}</span> {what}
              {by && `, ${by}`}
              {entry !== null && <span className="mute"> · entry {entry}</span>}
            </li>
          ))}
        </ul>
      )}
    </Panel>
  );
}
