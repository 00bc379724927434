import { DataTable } from '@/app/_ui/data-table';
import { FactLink } from '@/app/_ui/fact-link';
import { Link } from '@/app/_ui/link';
import { Panel } from '@/app/_ui/panel';
import { database } from '@/db/handle';
import { type SheetBulletin, unitSheetBulletins } from '@/db/reads/unit-sheet-bulletins';
import { isoFromDay, localDay } from '@/lib/calendar';
import styles from './unit-sheet.module.css';

interface BulletinsPanelProps {
  readonly unitId: string;
  readonly timeZone: string;
}

export async function BulletinsPanel({ unitId, timeZone }: BulletinsPanelProps) {
  const { weighed, others } = await unitSheetBulletins((await database()).db, unitId);
  const shown = weighed.filter(({ status }) => status !== 'does not apply');
  return (
    <Panel title="Bulletins">
      {shown.length > 0 && (
        <DataTable label="Bulletins of this unit" small>
          <thead>
            <tr>
              <th scope="col">Status</th>
              <th scope="col">Bulletin</th>
              <th scope="col">What is asked</th>
            </tr>
          </thead>
          <tbody>
            {shown.map((bulletin) => (
              <tr key={bulletin.id}>
                <td>{bulletin.status}</td>
                <th scope="row">
                  <Link
                    className="unbroken"
                    href={`/units/${encodeURIComponent(unitId)}/bulletins/${bulletin.id}`}
                  >
                    {bulletin.number} issue {bulletin.issue}
                  </Link>
                  <div className={styles.of}>{bulletin.title}</div>
                </th>
                <td>{asked(bulletin, timeZone, unitId)}</td>
              </tr>
            ))}
          </tbody>
        </DataTable>
      )}
      <p className="mute small">
        {others === 0 && shown.length === 0 && 'No bulletin is on record.'}
        {others > 0 &&
          `${others} ${shown.length > 0 ? 'other ' : ''}${others === 1 ? 'bulletin in force does' : 'bulletins in force do'} not apply.`}
      </p>
    </Panel>
  );
}

/** What must be done or found out; for what is settled: why, by whom, by which order and revision. */
function asked(bulletin: SheetBulletin, timeZone: string, unitId: string) {
  const { status, missing, dueOn, kind, statusAt, statusReason, by, workOrder } = bulletin;
  if (status === 'undecided') {
    return missing.map(({ fact, how }) => (
      <div key={fact}>
        {fact} is missing: {how} <FactLink unitId={unitId} fact={fact} />
      </div>
    ));
  }
  const since = `since ${isoFromDay(localDay(statusAt, timeZone))}`;
  const trail = [
    since,
    by && `by ${by}`,
    workOrder && `work order ${workOrder}`,
    bulletin.fittedRevision && `revision ${bulletin.fittedRevision}`,
    bulletin.reviewOn && `looked at again ${bulletin.reviewOn}`,
  ].filter(Boolean);
  if (status === 'open' || status === 'planned') {
    const due = dueOn === null ? kind : `${kind}, due ${dueOn}`;
    return status === 'planned' ? `${due}; ${trail.join(', ')}` : due;
  }
  return [statusReason, trail.join(', ')].filter(Boolean).join('; ');
}
