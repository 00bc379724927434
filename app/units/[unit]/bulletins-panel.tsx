import { DataTable } from '@/app/_ui/data-table';
import { Panel } from '@/app/_ui/panel';
import { database } from '@/db/handle';
import { type SheetBulletin, unitSheetBulletins } from '@/db/reads/unit-sheet-bulletins';
import { isoFromDay, localDay } from '@/lib/calendar';

interface BulletinsPanelProps {
  readonly unitId: string;
  readonly timeZone: string;
}

export async function BulletinsPanel({ unitId, timeZone }: BulletinsPanelProps) {
  const bulletins = await unitSheetBulletins((await database()).db, unitId);
  const shown = bulletins.filter(({ status }) => status !== 'does not apply');
  const others = bulletins.length - shown.length;
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
              <tr key={`${bulletin.number} ${bulletin.title}`}>
                <td>{bulletin.status}</td>
                <th scope="row">
                  {bulletin.number} {bulletin.title}
                </th>
                <td>{asked(bulletin, timeZone)}</td>
              </tr>
            ))}
          </tbody>
        </DataTable>
      )}
      <p className="mute small">
        {bulletins.length === 0
          ? 'No bulletin was weighed against this unit.'
          : `${others} ${others === 1 ? 'other does' : 'others do'} not apply.`}
      </p>
    </Panel>
  );
}

function asked({ status, missing, dueOn, kind, statusAt }: SheetBulletin, timeZone: string) {
  if (status === 'undecided') {
    return missing.map(({ fact, how }) => `${fact} is missing: ${how}`).join(' ');
  }
  if (status === 'open' || status === 'planned') {
    return dueOn === null ? kind : `${kind}, due ${dueOn}`;
  }
  return `since ${isoFromDay(localDay(statusAt, timeZone))}`;
}
