import { DataTable } from '@/app/_ui/data-table';
import { moment } from '@/app/_ui/format';
import { Link } from '@/app/_ui/link';
import { MarkTag } from '@/app/_ui/mark';
import type { EndedSpell } from '@/db/reads/spells-ended-since';
import type { DistanceUnit } from '@/lib/measure';
import { ActForm } from '../act-form';
import { acknowledge } from './actions';
import styles from './board.module.css';
import { DrivenNotes } from './driven-notes';

interface ReleasedTableProps {
  readonly spells: readonly EndedSpell[];
  readonly distanceUnit: DistanceUnit;
  readonly mayAcknowledge: boolean;
}

export function ReleasedTable({ spells, distanceUnit, mayAcknowledge }: ReleasedTableProps) {
  return (
    <DataTable label="Released in the last 30 days" stacks>
      <thead>
        <tr>
          <th scope="col">Unit</th>
          <th scope="col">Out</th>
          <th scope="col" className="number">
            Days
          </th>
          <th scope="col">Cause found</th>
          <th scope="col">1 · Certified</th>
          <th scope="col">2 · Released</th>
          <th scope="col">Now</th>
          <th scope="col" className="number">
            Ledger
          </th>
        </tr>
      </thead>
      <tbody>
        {spells.map((spell) => (
          <tr key={spell.spellId}>
            <th scope="row">
              <Link href={`/units/${encodeURIComponent(spell.unitId)}`}>{spell.unitId}</Link>
            </th>
            <td data-label="Out" className={styles.signer}>
              {moment(spell.openedAt, spell.timeZone)} to {moment(spell.releasedAt, spell.timeZone)}
            </td>
            <td data-label="Days" className="number">
              {spell.daysOut}
            </td>
            <td data-label="Cause found">
              {spell.causeFound}
              {spell.isProofWithdrawn && (
                <div>
                  <b>Proof withdrawn</b>
                </div>
              )}
              <DrivenNotes
                spellId={spell.spellId}
                notes={spell.driven}
                distanceUnit={distanceUnit}
                timeZone={spell.timeZone}
                mayAcknowledge={mayAcknowledge}
              />
              {spell.toAcknowledge.map((readingId) => (
                <div key={readingId}>
                  A late reading joined this spell.
                  {mayAcknowledge && (
                    <ActForm
                      action={acknowledge}
                      hidden={{ spellId: spell.spellId, readingId }}
                      button="Acknowledge the late reading"
                    />
                  )}
                </div>
              ))}
            </td>
            <td data-label="Certified" className={styles.signer}>
              {spell.certifiedBy}
            </td>
            <td data-label="Released" className={styles.signer}>
              {spell.releasedBy}
              {spell.isSmallShop && <div className="small mute">small shop</div>}
            </td>
            <td data-label="Now">
              {spell.markNow ? <MarkTag mark={spell.markNow} size={14} /> : '–'}
            </td>
            <td data-label="Ledger" className="number">
              {spell.entry === null ? (
                '–'
              ) : (
                <Link href={`/ledger?entry=${spell.entry}`}>{spell.entry}</Link>
              )}
            </td>
          </tr>
        ))}
      </tbody>
    </DataTable>
  );
}
